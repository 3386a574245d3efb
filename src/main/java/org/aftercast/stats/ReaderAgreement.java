package org.aftercast.stats;

import org.jspecify.annotations.Nullable;

/**
 * How well two readers agree on categories.
 *
 * <p>Cohen's kappa (p₀ − pₑ)/(1 − pₑ) with the large-sample standard error (key {@code fleiss1969}) and the one under no
 * agreement beyond chance; Gwet's AC1 beside it, because kappa falls apart when nearly all subjects fall into one
 * category (key {@code gwet2008}); kappa with weights 1 − (i−j)²/(k−1)² or 1 − |i−j|/(k−1) for ordered categories.
 *
 * @param subjects number of subjects, ≥ 1
 * @param agreement share on which both agree
 * @param kappa null when both readers used one and the same category only
 * @param kappaSe large-sample standard error; null with kappa
 * @param kappaNullSe standard error when they agree by chance only; null with kappa
 * @param ac1 Gwet's AC1
 */
public record ReaderAgreement(
        int subjects,
        double agreement,
        @Nullable Double kappa,
        @Nullable Double kappaSe,
        @Nullable Double kappaNullSe,
        double ac1) {

    /** Weights of partial agreement between ordered categories. */
    public enum Weights {
        /** 1 − |i−j|/(k−1). */
        LINEAR,
        /** 1 − (i−j)²/(k−1)². */
        SQUARED
    }

    /**
     * Agreement.
     *
     * @param counts counts[i][j] subjects that the first reader put into i and the second into j; square, ≥ 2 categories
     * @throws IllegalArgumentException if it is not square, a count is negative, or there is no subject
     */
    public static ReaderAgreement of(int[][] counts) {
        double[][] p = shares(counts);
        int k = p.length;
        double[] row = rows(p);
        double[] column = columns(p);
        int n = total(counts);
        double agreed = 0;
        double chance = 0;
        double gwet = 0;
        for (int i = 0; i < k; i++) {
            agreed += p[i][i];
            chance += row[i] * column[i];
            double mean = (row[i] + column[i]) / 2;
            gwet += mean * (1 - mean) / (k - 1);
        }
        double ac1 = (agreed - gwet) / (1 - gwet);
        if (!(chance < 1 - 1e-12)) {
            return new ReaderAgreement(n, agreed, null, null, null, ac1);
        }
        double kappa = (agreed - chance) / (1 - chance);
        double a = 0;
        double b = 0;
        double underNull = chance + chance * chance;
        for (int i = 0; i < k; i++) {
            double factor = 1 - (row[i] + column[i]) * (1 - kappa);
            a += p[i][i] * factor * factor;
            underNull -= row[i] * column[i] * (row[i] + column[i]);
            for (int j = 0; j < k; j++) {
                if (i != j) {
                    b += p[i][j] * (column[i] + row[j]) * (column[i] + row[j]);
                }
            }
        }
        b *= (1 - kappa) * (1 - kappa);
        double c = kappa - chance * (1 - kappa);
        double denominator = (1 - chance) * Math.sqrt(n);
        return new ReaderAgreement(
                n,
                agreed,
                kappa,
                Math.sqrt(Math.max(0, a + b - c * c)) / denominator,
                Math.sqrt(Math.max(0, underNull)) / denominator,
                ac1);
    }

    /**
     * Kappa with partial agreement.
     *
     * @param counts as in {@link #of}, categories in order
     * @return null when both readers used one and the same category only
     */
    public static @Nullable Double weightedKappa(int[][] counts, Weights weights) {
        double[][] p = shares(counts);
        int k = p.length;
        double[] row = rows(p);
        double[] column = columns(p);
        double agreed = 0;
        double chance = 0;
        for (int i = 0; i < k; i++) {
            for (int j = 0; j < k; j++) {
                double apart = Math.abs(i - j) / (k - 1.0);
                double weight = 1 - (weights == Weights.LINEAR ? apart : apart * apart);
                agreed += weight * p[i][j];
                chance += weight * row[i] * column[j];
            }
        }
        return chance < 1 - 1e-12 ? (agreed - chance) / (1 - chance) : null;
    }

    private static int total(int[][] counts) {
        int n = 0;
        for (int[] line : counts) {
            if (line.length != counts.length) {
                throw new IllegalArgumentException("counts: " + counts.length + " rows, a row of " + line.length);
            }
            for (int count : line) {
                if (count < 0) {
                    throw new IllegalArgumentException("counts: " + count + " is below 0");
                }
                n += count;
            }
        }
        if (n == 0 || counts.length < 2) {
            throw new IllegalArgumentException("counts: no subject, or fewer than two categories");
        }
        return n;
    }

    private static double[][] shares(int[][] counts) {
        double n = total(counts);
        double[][] p = new double[counts.length][counts.length];
        for (int i = 0; i < p.length; i++) {
            for (int j = 0; j < p.length; j++) {
                p[i][j] = counts[i][j] / n;
            }
        }
        return p;
    }

    private static double[] rows(double[][] p) {
        double[] sum = new double[p.length];
        for (int i = 0; i < p.length; i++) {
            for (double value : p[i]) {
                sum[i] += value;
            }
        }
        return sum;
    }

    private static double[] columns(double[][] p) {
        double[] sum = new double[p.length];
        for (double[] line : p) {
            for (int j = 0; j < p.length; j++) {
                sum[j] += line[j];
            }
        }
        return sum;
    }
}
