package org.aftercast.search;

/** Weighs a cloud by a likelihood, in as many stages as keep a tenth of the particles effective, resampling between. */
final class Weighing {

    private static final int MOST_STAGES = 8;

    private Weighing() {}

    /**
     * Weighs all particles by a likelihood, in as many stages as keep a tenth of them effective, resampling between.
     *
     * @return the log of the mean likelihood: how well the cloud foresaw the observation
     */
    static double weigh(Cloud cloud, Cloud.Likelihood likelihood) {
        double[] weight = cloud.weight;
        int n = cloud.size();
        double[] log = new double[n];
        double evidence = 0;
        double left = 1;
        for (int stage = 1; left > 0; stage++) {
            likelihood.fill(cloud, log);
            double share = stage >= MOST_STAGES ? left : share(weight, log, left);
            double top = Double.NEGATIVE_INFINITY;
            for (double value : log) {
                top = Math.max(top, share * value);
            }
            double sum = 0;
            for (int i = 0; i < n; i++) {
                weight[i] *= Math.exp(share * log[i] - top);
                sum += weight[i];
            }
            for (int i = 0; i < n; i++) {
                weight[i] /= sum;
            }
            evidence += top + Math.log(sum);
            left -= share;
            if (left > 1e-9 || Resampling.effective(weight) < n / 2.0) {
                cloud.resample();
            }
            if (left <= 1e-9) {
                break;
            }
        }
        return evidence;
    }

    /** The largest share of the likelihood that keeps a tenth of the particles effective. */
    private static double share(double[] weight, double[] log, double left) {
        if (effectiveAfter(weight, log, left) >= weight.length / 10.0) {
            return left;
        }
        double low = 0;
        double high = left;
        for (int k = 0; k < 18; k++) {
            double middle = (low + high) / 2;
            if (effectiveAfter(weight, log, middle) >= weight.length / 10.0) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Math.max(low, left / 64);
    }

    private static double effectiveAfter(double[] weight, double[] log, double share) {
        double top = Double.NEGATIVE_INFINITY;
        for (double value : log) {
            top = Math.max(top, share * value);
        }
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < log.length; i++) {
            double w = weight[i] * Math.exp(share * log[i] - top);
            sum += w;
            squares += w * w;
        }
        return sum * sum / squares;
    }
}
