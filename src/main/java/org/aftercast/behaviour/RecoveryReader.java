package org.aftercast.behaviour;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Time to return to normal, measure by measure: means over minutes with swimming, {@link CurveFits}, an interval from the
 * profile of the time to recovery, and an honest status. Source of the definition: {@code grainger2022}.
 */
final class RecoveryReader {

    private static final int LEAST_BINS = 10;

    /** Odds of 3 to 1, below which evidence is barely worth a mention ({@code kass1995}). */
    private static final double CLEAR = Math.log(3);

    private RecoveryReader() {}

    static RecoveryReading read(MinuteTable m, double releaseS, double endS, List<Bout> bouts, BehaviourSettings set) {
        List<Recovery> all = new ArrayList<>();
        boolean[] counts = swimming(m, bouts);
        for (RecoveryMeasure measure : RecoveryMeasure.values()) {
            all.add(read(measure, m, counts, releaseS, endS, set));
        }
        Recovery headline = all.get(0);
        double clearest = clearness(headline);
        for (Recovery r : all.subList(0, 3)) {
            if (clearness(r) > clearest) {
                clearest = clearness(r);
                headline = r;
            }
        }
        double restFrom = Double.NaN;
        double restMin = Double.NaN;
        for (Bout b : bouts) {
            if (b.kind() == BoutKind.RESTING) {
                restFrom = (b.startS() - releaseS) / 3600;
                restMin = (b.endS() - b.startS()) / 60;
                break;
            }
        }
        return new RecoveryReading(all, headline, restFrom, restMin, statement(all, headline, restFrom, restMin));
    }

    /** Minutes whose middle lies in a bout of swimming: weak beats at the surface just after the release are no normal. */
    private static boolean[] swimming(MinuteTable m, List<Bout> bouts) {
        boolean[] counts = new boolean[m.minutes()];
        for (Bout b : bouts) {
            for (int k = (int) Math.ceil(b.startS() / 60 - 0.5);
                    b.kind() == BoutKind.SWIMMING && k < counts.length && k * 60 + 30 < b.endS();
                    k++) {
                counts[Math.max(0, k)] = true;
            }
        }
        return counts;
    }

    private static double clearness(Recovery r) {
        return r.status() == Recovery.Status.NOT_ENOUGH_DATA ? Double.NEGATIVE_INFINITY : r.logOdds();
    }

    private static Recovery read(
            RecoveryMeasure measure,
            MinuteTable m,
            boolean[] counts,
            double releaseS,
            double endS,
            BehaviourSettings set) {
        double spanMin = (endS - releaseS) / 60;
        double binMin = Math.max(2, Math.min(set.recoveryBinMin(), Math.floor(spanMin / 32)));
        Series series = series(measure, m, counts, releaseS, endS, binMin);
        double ownMean = ownMean(measure, m, counts, releaseS, endS, set);
        Recovery first = fit(measure, series.t, series.y, binMin, ownMean, set);
        if (first.status() == Recovery.Status.RECOVERED && first.recoveredH() * 60 < 6 * binMin && binMin > 3) {
            double fine = Math.max(2, Math.min(binMin / 3, first.recoveredH() * 60 / 4));
            Series finer = series(measure, m, counts, releaseS, endS, Math.floor(fine));
            Recovery second = fit(measure, finer.t, finer.y, Math.floor(fine), ownMean, set);
            return second.status() == Recovery.Status.NOT_ENOUGH_DATA ? first : second;
        }
        return first;
    }

    private record Series(double[] t, double[] y) {}

    private static Series series(
            RecoveryMeasure measure, MinuteTable m, boolean[] counts, double releaseS, double endS, double binMin) {
        int bins = (int) Math.ceil((endS - releaseS) / 60 / binMin);
        double[] t = new double[Math.max(0, bins)];
        double[] y = new double[Math.max(0, bins)];
        int n = 0;
        for (int b = 0; b < bins; b++) {
            double fromS = releaseS + b * binMin * 60;
            double toS = Math.min(endS, fromS + binMin * 60);
            int from = (int) Math.ceil(fromS / 60);
            int to = (int) Math.min(m.minutes(), Math.floor(toS / 60));
            double value = mean(measure, m, counts, from, to, Math.max(1, (int) (binMin / 4)));
            if (!Double.isNaN(value)) {
                t[n] = (0.5 * (fromS + toS) - releaseS) / 3600;
                y[n++] = value;
            }
        }
        return new Series(Arrays.copyOf(t, n), Arrays.copyOf(y, n));
    }

    private static double mean(RecoveryMeasure measure, MinuteTable m, boolean[] counts, int from, int to, int least) {
        double sum = 0;
        double squares = 0;
        int n = 0;
        for (int k = Math.max(0, from); k < to; k++) {
            boolean swims = counts[k] && m.beatShare()[k] >= 0.5;
            double v = switch (measure) {
                case BEAT_FREQUENCY -> swims ? m.beatHz()[k] : Double.NaN;
                case BEAT_AMPLITUDE -> swims ? m.beatAmplitudeG()[k] : Double.NaN;
                case ACTIVITY -> swims ? m.dynamicG()[k] : Double.NaN;
                case ROLL_STEADINESS -> swims ? m.rollSpreadDeg()[k] : Double.NaN;
                case DEPTH_VARIABILITY -> m.depthM()[k];
            };
            if (!Double.isNaN(v)) {
                sum += v;
                squares += v * v;
                n++;
            }
        }
        if (n < least) {
            return Double.NaN;
        }
        double mean = sum / n;
        return measure == RecoveryMeasure.DEPTH_VARIABILITY ? Math.sqrt(Math.max(0, squares / n - mean * mean)) : mean;
    }

    /** Fits means and says what can be said; {@code t} in hours since the release. */
    static Recovery fit(
            RecoveryMeasure measure, double[] t, double[] y, double binMin, double ownMeanH, BehaviourSettings set) {
        int n = t.length;
        if (n < LEAST_BINS) {
            String sentence = String.format(
                    Locale.ROOT,
                    "%s: only %d means of %.0f min with swimming, at least %d are needed.",
                    name(measure),
                    n,
                    binMin,
                    LEAST_BINS);
            return new Recovery(
                    measure,
                    Recovery.Status.NOT_ENOUGH_DATA,
                    RecoveryCurve.CONSTANT,
                    Double.NaN,
                    Double.NaN,
                    Double.NaN,
                    Double.NaN,
                    Double.NaN,
                    binMin,
                    n,
                    Double.NaN,
                    Double.NaN,
                    Map.of(),
                    t,
                    y,
                    new double[n],
                    ownMeanH,
                    sentence);
        }
        CurveFits fits = new CurveFits(
                t,
                y,
                binMin / 60,
                set.recoveredShare(),
                set.dielShare() * measure.looseness(),
                set.departureShare() * measure.looseness());
        Map<RecoveryCurve, Double> akaike = new EnumMap<>(RecoveryCurve.class);
        fits.best().forEach((curve, one) -> akaike.put(curve, one.akaike()));
        Map.Entry<RecoveryCurve, CurveFits.Best> returning = fits.leading(true);
        Map.Entry<RecoveryCurve, CurveFits.Best> other = fits.leading(false);
        if (returning == null || other == null) {
            throw new IllegalStateException("no curve was fitted");
        }
        double logOdds = fits.evidence();
        boolean disturbed = logOdds > set.disturbanceLogOdds();
        Map.Entry<RecoveryCurve, CurveFits.Best> lead = disturbed ? returning : other;
        CurveFits.Best best = lead.getValue();
        double normal = best.weights()[0];
        double start = disturbed ? normal + best.weights()[1] : normal;
        double[] interval = {Double.NaN, Double.NaN};
        Recovery.Status status = Recovery.Status.NEVER_DISTURBED;
        double recovered = Double.NaN;
        if (disturbed) {
            double span = t[n - 1] + binMin / 120;
            double tail = (1 - set.confidence()) / 2;
            double mean = fits.meanH(tail, 1 - tail);
            if (fits.shareBeyond(span) > set.shareBeyondRecord() || mean > span / 2) {
                status = Recovery.Status.NOT_WITHIN_RECORD;
                interval = new double[] {fits.quantileH(tail), Double.POSITIVE_INFINITY};
            } else {
                status = Recovery.Status.RECOVERED;
                recovered = mean;
                interval = new double[] {fits.quantileH(tail), fits.quantileH(1 - tail)};
            }
        }
        if (status == Recovery.Status.NOT_WITHIN_RECORD && normal <= 0) {
            normal = Double.NaN; // a curve still on its way can point below zero, which none of the measures can be
        }
        String sentence = sentence(measure, status, recovered, interval, start, normal, logOdds, t[n - 1], set);
        return new Recovery(
                measure,
                status,
                lead.getKey(),
                recovered,
                interval[0],
                interval[1],
                start,
                normal,
                binMin,
                n,
                best.rho(),
                logOdds,
                akaike,
                t,
                y,
                best.fitted(),
                ownMeanH,
                sentence);
    }

    /** Second published definition: five-minute means not above the animal's own mean after six hours, for 20 min. */
    private static double ownMean(
            RecoveryMeasure measure,
            MinuteTable m,
            boolean[] counts,
            double releaseS,
            double endS,
            BehaviourSettings set) {
        if (measure == RecoveryMeasure.DEPTH_VARIABILITY
                || measure == RecoveryMeasure.ROLL_STEADINESS
                || endS - releaseS < (set.ownMeanAfterH() + 2) * 3600) {
            return Double.NaN;
        }
        Series s = series(measure, m, counts, releaseS, endS, 5);
        double sum = 0;
        int n = 0;
        for (int i = 0; i < s.t.length; i++) {
            if (s.t[i] >= set.ownMeanAfterH()) {
                sum += s.y[i];
                n++;
            }
        }
        int need = (int) Math.ceil(set.ownMeanBelowMin() / 5);
        if (n < 4 * need) {
            return Double.NaN;
        }
        double mean = sum / n;
        int run = 0;
        for (int i = 0; i < s.t.length; i++) {
            run = s.y[i] < mean ? run + 1 : 0;
            if (run >= need) {
                return Math.max(0, s.t[i - need + 1] - 2.5 / 60);
            }
        }
        return Double.NaN;
    }

    private static String name(RecoveryMeasure measure) {
        String w = measure.word();
        return w.substring(0, 1).toUpperCase(Locale.ROOT) + w.substring(1);
    }

    private static String sentence(
            RecoveryMeasure measure,
            Recovery.Status status,
            double recovered,
            double[] interval,
            double start,
            double normal,
            double logOdds,
            double lastH,
            BehaviourSettings set) {
        String moved = String.format(
                Locale.ROOT, "%s went from %s to %s %s", name(measure), number(start), number(normal), measure.unit());
        String share = String.format(Locale.ROOT, "%.0f %% of the way back", 100 * set.recoveredShare());
        return switch (status) {
            case RECOVERED ->
                String.format(
                                Locale.ROOT,
                                "%s; %s was reached %s after the release (%.0f %% interval %s to %s).",
                                moved,
                                share,
                                span(recovered),
                                100 * set.confidence(),
                                span(interval[0]),
                                span(interval[1]))
                        + weak(logOdds);
            case NOT_WITHIN_RECORD ->
                (interval[0] > lastH / 2
                                ? String.format(
                                        Locale.ROOT,
                                        "%s was disturbed and had not returned when the animal's part of the record ended: %s"
                                                + " would take at least %s.",
                                        name(measure),
                                        share,
                                        span(interval[0]))
                                : String.format(
                                        Locale.ROOT,
                                        "%s was disturbed; the record does not tell when it was back to normal: %s took at least"
                                                + " %s, no upper limit.",
                                        name(measure),
                                        share,
                                        span(interval[0])))
                        + weak(logOdds);
            case NEVER_DISTURBED ->
                String.format(
                        Locale.ROOT,
                        "%s stayed at its own normal (%s %s) from the start, within noise and daily rhythm; that is %.1f times as"
                                + " likely as a departure and return%s.",
                        name(measure),
                        number(normal),
                        measure.unit(),
                        Math.exp(Math.min(7, -logOdds)),
                        logOdds > -CLEAR ? ", so that a small or slow one cannot be excluded" : "");
            case NOT_ENOUGH_DATA -> name(measure) + ": not enough data.";
        };
    }

    /** Added where it is little more likely than not that there was a disturbance. */
    private static String weak(double logOdds) {
        return logOdds < CLEAR
                ? String.format(
                        Locale.ROOT,
                        " That it was disturbed at all is only %.1f times as likely as not.",
                        Math.exp(logOdds))
                : "";
    }

    /** Hours, or minutes where there are few. */
    private static String span(double hours) {
        return hours < 1
                ? String.format(Locale.ROOT, "%.0f min", hours * 60)
                : String.format(Locale.ROOT, "%.1f h", hours);
    }

    private static String number(double v) {
        double size = Math.abs(v);
        return String.format(Locale.ROOT, size >= 100 ? "%.0f" : size >= 1 ? "%.2f" : "%.3f", v);
    }

    private static String statement(List<Recovery> all, Recovery headline, double restFrom, double restMin) {
        int disturbed = 0;
        int open = 0;
        int judged = 0;
        double longest = 0;
        for (Recovery r : all) {
            judged += r.status() == Recovery.Status.NOT_ENOUGH_DATA ? 0 : 1;
            disturbed += r.status() == Recovery.Status.RECOVERED ? 1 : 0;
            open += r.status() == Recovery.Status.NOT_WITHIN_RECORD ? 1 : 0;
            longest = r.status() == Recovery.Status.RECOVERED ? Math.max(longest, r.recoveredH()) : longest;
        }
        StringBuilder text = new StringBuilder();
        if (judged == 0) {
            text.append("There was too little swimming to judge recovery.");
        } else if (disturbed + open == 0) {
            text.append(String.format(
                    Locale.ROOT,
                    "None of %d measures departed from the animal's own normal after the release.",
                    judged));
        } else {
            text.append(String.format(
                    Locale.ROOT, "%d of %d measures were disturbed at the release", disturbed + open, judged));
            if (disturbed > 0) {
                text.append(String.format(Locale.ROOT, "; the last to return within the record took %.1f h", longest));
            }
            if (open > 0) {
                text.append(String.format(Locale.ROOT, "; of %d the record does not show the return", open));
            }
            text.append(". ").append(headline.sentence());
        }
        if (!Double.isNaN(restFrom)) {
            text.append(String.format(
                    Locale.ROOT, " It first rested %.1f h after the release, for %.0f min.", restFrom, restMin));
        }
        return text.toString();
    }
}
