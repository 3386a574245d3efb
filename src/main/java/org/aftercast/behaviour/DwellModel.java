package org.aftercast.behaviour;

import java.util.Arrays;

/**
 * Hidden Markov model with explicit durations: a bout of state s lasts at least d(s) steps, and after that ends with
 * probability h(s) at every step, so that its length is d(s) − 1 plus a geometric number of steps. Each state is unrolled
 * into d(s) places that are walked through in order; only the last place can be left. Forward–backward gives the
 * posterior of each state at each step, and Viterbi the best path. A bout cut by either end of the record may be shorter.
 *
 * <p>Transitions that are not allowed have weight 0 and cannot be taken whatever the data.
 */
final class DwellModel {

    private final int states;
    private final int[] firstPlace;
    private final int places;
    private final double[] leave;
    private final double[][] goesTo;
    private final double[] start;

    /**
     * Sets the model.
     *
     * @param dwell shortest bout of each state, steps ≥ 1
     * @param leave probability of ending a bout at a step once it is long enough, 0–1
     * @param goesTo {@code goesTo[from][to]}: where it goes then; rows sum to 1 (or 0 for a state that is never left)
     * @param start probability of each state at the first step
     */
    DwellModel(int[] dwell, double[] leave, double[][] goesTo, double[] start) {
        this.states = dwell.length;
        this.leave = leave.clone();
        this.goesTo = goesTo;
        this.start = start.clone();
        this.firstPlace = new int[states + 1];
        for (int s = 0; s < states; s++) {
            firstPlace[s + 1] = firstPlace[s] + dwell[s];
        }
        this.places = firstPlace[states];
    }

    /**
     * What comes out.
     *
     * @param path most probable state at each step, as a whole path
     * @param posterior {@code posterior[step][state]}, each row sums to 1
     * @param logEvidence log-likelihood of all steps
     */
    record Decoded(int[] path, double[][] posterior, double logEvidence) {}

    /**
     * Decodes.
     *
     * @param logEmission {@code [step][state]}; finite or −∞, at least one state possible at each step
     */
    Decoded decode(double[][] logEmission) {
        int n = logEmission.length;
        double[][] forward = new double[n][places];
        double[] scale = new double[n];
        double logEvidence = 0;
        for (int t = 0; t < n; t++) {
            double[] now = forward[t];
            if (t == 0) {
                for (int s = 0; s < states; s++) {
                    now[last(s)] = start[s];
                }
            } else {
                step(forward[t - 1], now);
            }
            double top = max(logEmission[t]);
            double sum = 0;
            for (int s = 0; s < states; s++) {
                double e = Math.exp(logEmission[t][s] - top);
                for (int p = firstPlace[s]; p < firstPlace[s + 1]; p++) {
                    now[p] *= e;
                    sum += now[p];
                }
            }
            if (!(sum > 0)) { // every open place was ruled out by the data: restart from the emissions alone
                for (int s = 0; s < states; s++) {
                    now[last(s)] = Math.exp(logEmission[t][s] - top);
                    sum += now[last(s)];
                }
            }
            for (int p = 0; p < places; p++) {
                now[p] /= sum;
            }
            scale[t] = sum;
            logEvidence += Math.log(sum) + top;
        }
        return new Decoded(viterbi(logEmission), backward(forward, logEmission), logEvidence);
    }

    private int last(int s) {
        return firstPlace[s + 1] - 1;
    }

    private void step(double[] from, double[] to) {
        for (int s = 0; s < states; s++) {
            for (int p = firstPlace[s]; p < last(s); p++) {
                to[p + 1] += from[p];
            }
            to[last(s)] += from[last(s)] * (1 - leave[s]);
        }
        for (int a = 0; a < states; a++) {
            double out = from[last(a)] * leave[a];
            if (out > 0) {
                for (int b = 0; b < states; b++) {
                    if (goesTo[a][b] > 0) {
                        to[firstPlace[b]] += out * goesTo[a][b];
                    }
                }
            }
        }
    }

    private double[][] backward(double[][] forward, double[][] logEmission) {
        int n = logEmission.length;
        double[] later = new double[places];
        Arrays.fill(later, 1);
        double[] weighted = new double[places];
        double[][] posterior = new double[n][states];
        for (int t = n - 1; t >= 0; t--) {
            double sum = 0;
            for (int s = 0; s < states; s++) {
                for (int p = firstPlace[s]; p < firstPlace[s + 1]; p++) {
                    posterior[t][s] += forward[t][p] * later[p];
                }
                sum += posterior[t][s];
            }
            for (int s = 0; s < states; s++) {
                posterior[t][s] = sum > 0 ? posterior[t][s] / sum : 1.0 / states;
            }
            if (t == 0) {
                break;
            }
            double top = max(logEmission[t]);
            for (int s = 0; s < states; s++) {
                double e = Math.exp(logEmission[t][s] - top);
                for (int p = firstPlace[s]; p < firstPlace[s + 1]; p++) {
                    weighted[p] = later[p] * e;
                }
            }
            double largest = 0;
            for (int s = 0; s < states; s++) {
                for (int p = firstPlace[s]; p < last(s); p++) {
                    later[p] = weighted[p + 1];
                    largest = Math.max(largest, later[p]);
                }
                double value = weighted[last(s)] * (1 - leave[s]);
                for (int b = 0; b < states; b++) {
                    if (goesTo[s][b] > 0) {
                        value += leave[s] * goesTo[s][b] * weighted[firstPlace[b]];
                    }
                }
                later[last(s)] = value;
                largest = Math.max(largest, value);
            }
            if (largest > 0) {
                for (int p = 0; p < places; p++) {
                    later[p] /= largest;
                }
            } else {
                Arrays.fill(later, 1);
            }
        }
        return posterior;
    }

    private int[] viterbi(double[][] logEmission) {
        int n = logEmission.length;
        double[] best = new double[places];
        double[] next = new double[places];
        short[][] came = new short[n][places];
        Arrays.fill(best, Double.NEGATIVE_INFINITY);
        for (int s = 0; s < states; s++) {
            best[last(s)] = Math.log(start[s]) + logEmission[0][s];
        }
        for (int t = 1; t < n; t++) {
            Arrays.fill(next, Double.NEGATIVE_INFINITY);
            for (int s = 0; s < states; s++) {
                for (int p = firstPlace[s]; p < last(s); p++) {
                    offer(next, came[t], p + 1, best[p], p);
                }
                offer(next, came[t], last(s), best[last(s)] + Math.log(1 - leave[s]), last(s));
                for (int b = 0; b < states; b++) {
                    if (goesTo[s][b] > 0 && leave[s] > 0) {
                        double value = best[last(s)] + Math.log(leave[s] * goesTo[s][b]);
                        offer(next, came[t], firstPlace[b], value, last(s));
                    }
                }
            }
            double top = Double.NEGATIVE_INFINITY;
            for (int s = 0; s < states; s++) {
                for (int p = firstPlace[s]; p < firstPlace[s + 1]; p++) {
                    next[p] += logEmission[t][s];
                    top = Math.max(top, next[p]);
                }
            }
            if (top == Double.NEGATIVE_INFINITY) {
                int from = argMax(best);
                for (int s = 0; s < states; s++) {
                    next[last(s)] = logEmission[t][s];
                    came[t][last(s)] = (short) from;
                }
                top = max(next);
            }
            for (int p = 0; p < places; p++) {
                next[p] -= top;
            }
            double[] swap = best;
            best = next;
            next = swap;
        }
        int[] path = new int[n];
        int place = argMax(best);
        for (int t = n - 1; t >= 0; t--) {
            int s = 0;
            while (place >= firstPlace[s + 1]) {
                s++;
            }
            path[t] = s;
            place = came[t][place];
        }
        return path;
    }

    private static void offer(double[] next, short[] came, int place, double value, int from) {
        if (value > next[place]) {
            next[place] = value;
            came[place] = (short) from;
        }
    }

    private static double max(double[] x) {
        double top = Double.NEGATIVE_INFINITY;
        for (double v : x) {
            top = Math.max(top, v);
        }
        return top;
    }

    private static int argMax(double[] x) {
        int at = 0;
        for (int i = 1; i < x.length; i++) {
            at = x[i] > x[at] ? i : at;
        }
        return at;
    }
}
