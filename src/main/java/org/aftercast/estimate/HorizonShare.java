package org.aftercast.estimate;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * The headline share for any weighting of the same animals, quickly: cumulative incidence at the horizon, which is the
 * count when every fate is known and 1 − S(t) when nothing competes.
 */
final class HorizonShare {

    private final int[] order;
    private final double[] time;
    private final int[] code;
    private final double horizonH;

    HorizonShare(List<AnimalOutcome> animals, double horizonH, DeathRule rule) {
        this(times(animals), codes(animals, rule), horizonH);
    }

    /**
     * Prepares.
     *
     * @param time hours at risk
     * @param code 0 lost from sight, 1 death that counts, 2 another end
     */
    HorizonShare(double[] time, int[] code, double horizonH) {
        this.horizonH = horizonH;
        this.time = time;
        this.code = code;
        order = Arrays.stream(indices(time.length))
                .sorted(Comparator.comparingDouble(i -> time[i]))
                .mapToInt(i -> i)
                .toArray();
    }

    /** Share with its variance (counting process form); the share is NaN when the curve does not reach the horizon. */
    record Moments(double share, double variance, double atRiskAfter) {}

    /**
     * The share when animal {@code i} is counted {@code weight[i]} times.
     *
     * @return NaN when nobody is left at risk before the horizon and some were lost from sight, or nobody is counted
     */
    double of(int[] weight) {
        return moments(weight).share;
    }

    Moments moments(int[] weight) {
        return moments(weight, code);
    }

    /** The same with other codes at the same times; code 3: alive beyond the horizon whatever its time says. */
    Moments moments(int[] weight, int[] codes) {
        double atRisk = 0;
        for (int w : weight) {
            atRisk += w;
        }
        if (atRisk == 0) {
            return new Moments(Double.NaN, 0, 0);
        }
        double survival = 1;
        double share = 0;
        double greenwood = 0;
        int k = 0;
        int n = order.length;
        while (k < n && time[order[k]] <= horizonH) {
            double t = time[order[k]];
            double own = 0;
            double other = 0;
            double left = 0;
            while (k < n && time[order[k]] == t) {
                int i = order[k++];
                if (codes[i] == 1) {
                    own += weight[i];
                } else if (codes[i] == 2) {
                    other += weight[i];
                } else if (codes[i] == 0 && t < horizonH) {
                    left += weight[i];
                }
            }
            double d = own + other;
            if (d > 0) {
                share += survival * own / atRisk;
                greenwood += atRisk > d ? d / (atRisk * (atRisk - d)) : 0;
                survival *= 1 - d / atRisk;
            }
            atRisk -= d + left;
            if (atRisk <= 0 && survival > 1e-12) {
                return new Moments(Double.NaN, 0, 0);
            }
        }
        return new Moments(share, survival * survival * greenwood, atRisk);
    }

    private static double[] times(List<AnimalOutcome> animals) {
        return animals.stream().mapToDouble(AnimalOutcome::atRiskH).toArray();
    }

    private static int[] codes(List<AnimalOutcome> animals, DeathRule rule) {
        return animals.stream().mapToInt(rule::code).toArray();
    }

    private static Integer[] indices(int n) {
        Integer[] all = new Integer[n];
        Arrays.setAll(all, i -> i);
        return all;
    }
}
