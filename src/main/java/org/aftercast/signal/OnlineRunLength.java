package org.aftercast.signal;

/**
 * How long the present regime has lasted, sample by sample (Bayesian online change detection).
 *
 * <p>The run length r grows by one with every sample or falls to 0. With hazard H = 1/λ and predictive density π:
 * P(r+1) ∝ P(r)·π·(1−H), P(0) ∝ Σ P(r)·π·H. Samples are normal with unknown mean and variance under a normal–gamma
 * prior (μ, κ, α, β), so π is Student's t with 2α degrees of freedom, location μ and squared scale β(κ+1)/(ακ).
 *
 * <p>With a constant hazard P(r = 0) equals H after every sample whatever the data: use the most probable run length.
 * Source: {@code adams2007}. Time and memory are quadratic and linear in the number of samples.
 */
public final class OnlineRunLength {

    /**
     * What is believed before the first sample.
     *
     * @param mean μ, units of the samples
     * @param kappa κ &gt; 0, weight of μ in samples
     * @param alpha α &gt; 0, shape
     * @param beta β &gt; 0, squared units of the samples
     */
    public record Prior(double mean, double kappa, double alpha, double beta) {

        public Prior {
            if (!Double.isFinite(mean) || !(kappa > 0) || !(alpha > 0) || !(beta > 0)) {
                throw new IllegalArgumentException("prior: " + mean + ", " + kappa + ", " + alpha + ", " + beta
                        + " needs a finite mean and kappa, alpha, beta above 0");
            }
        }
    }

    /**
     * The answer.
     *
     * @param mostProbable run length with the highest probability after each sample
     * @param last probability of each run length 0..n after the last sample; sums to 1
     * @param logEvidence natural logarithm of the probability density of all samples
     */
    public record RunLengths(int[] mostProbable, double[] last, double logEvidence) {}

    private final Prior prior;
    private final double hazard;

    /**
     * Sets the prior and the hazard.
     *
     * @param prior belief at the start of every regime
     * @param hazard H, probability of a change at each sample, 0 &lt; H &lt; 1
     */
    public OnlineRunLength(Prior prior, double hazard) {
        if (!(hazard > 0 && hazard < 1)) {
            throw new IllegalArgumentException("hazard: " + hazard + " is outside 0–1, both excluded");
        }
        this.prior = prior;
        this.hazard = hazard;
    }

    /**
     * Density of the next sample, Student's t.
     *
     * @param x sample
     * @param belief the present normal–gamma belief
     * @return per unit of the samples
     */
    public static double predictiveDensity(double x, Prior belief) {
        double nu = 2 * belief.alpha();
        double scale2 = belief.beta() * (belief.kappa() + 1) / (belief.alpha() * belief.kappa());
        double z2 = (x - belief.mean()) * (x - belief.mean()) / (nu * scale2);
        double log = logGamma((nu + 1) / 2)
                - logGamma(nu / 2)
                - 0.5 * Math.log(nu * Math.PI * scale2)
                - (nu + 1) / 2 * Math.log1p(z2);
        return Math.exp(log);
    }

    /**
     * Runs over a series.
     *
     * @param x finite samples; an empty series gives the belief that a regime starts
     * @throws IllegalArgumentException if a sample is not finite
     */
    public RunLengths run(double[] x) {
        int n = x.length;
        double[] p = new double[n + 1];
        double[] mean = new double[n + 1];
        double[] beta = new double[n + 1];
        p[0] = 1;
        mean[0] = prior.mean();
        beta[0] = prior.beta();
        int[] mostProbable = new int[n];
        double logEvidence = 0;
        for (int t = 0; t < n; t++) {
            if (!Double.isFinite(x[t])) {
                throw new IllegalArgumentException(
                        "x: sample " + t + " is " + x[t] + ", only finite values are accepted");
            }
            double reset = 0;
            double total = 0;
            for (int r = t; r >= 0; r--) {
                double kappa = prior.kappa() + r;
                double alpha = prior.alpha() + r / 2.0;
                double joint = p[r] * predictiveDensity(x[t], new Prior(mean[r], kappa, alpha, beta[r]));
                reset += joint * hazard;
                total += joint;
                p[r + 1] = joint * (1 - hazard);
                double d = x[t] - mean[r];
                beta[r + 1] = beta[r] + kappa * d * d / (2 * (kappa + 1));
                mean[r + 1] = mean[r] + d / (kappa + 1);
            }
            p[0] = reset;
            mean[0] = prior.mean();
            beta[0] = prior.beta();
            logEvidence += Math.log(total);
            for (int r = 0; r <= t + 1; r++) {
                p[r] /= total;
                if (p[r] > p[mostProbable[t]]) {
                    mostProbable[t] = r;
                }
            }
        }
        return new RunLengths(mostProbable, p, logEvidence);
    }

    private static double logGamma(double v) {
        return org.hipparchus.special.Gamma.logGamma(v);
    }
}
