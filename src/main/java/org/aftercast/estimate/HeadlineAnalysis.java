package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.stats.BetaProduct;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.stats.CumulativeIncidence;
import org.aftercast.stats.Interval;
import org.aftercast.stats.KaplanMeier;
import org.aftercast.stats.SurvivalCurve;
import org.aftercast.stats.SurvivalTimes;
import org.jspecify.annotations.Nullable;

/**
 * The share that died by the horizon: a count when every fate is known to the horizon, otherwise 1 − S(t), or the
 * cumulative incidence when some ends do not count.
 */
final class HeadlineAnalysis {

    static final String BETA_PRODUCT = "beta product (Clopper–Pearson carried over to censoring)";
    private static final String NAME = "Share that died by the horizon";

    private HeadlineAnalysis() {}

    /** One share with the way it was obtained. */
    record Answer(
            Method method, Headline.Kind kind, @Nullable Share died, List<Share> others) {}

    static Headline of(List<AnimalOutcome> animals, @Nullable LandedCounts landed, EstimateSettings settings) {
        DeathRule rule = settings.deaths();
        Headline.Counts counts = counts(animals, settings.horizonH(), rule);
        Answer answer = answer(animals, settings, rule);
        Share died = answer.died();
        Share best = null;
        Share worst = null;
        if (counts.animals() > 0) {
            best = count(counts.died(), counts.animals(), settings);
            worst = count(counts.died() + counts.unknown(), counts.animals(), settings);
        }
        return new Headline(
                answer.method(),
                answer.kind(),
                settings.horizonH(),
                rule.inWords(),
                counts,
                who(animals, settings.horizonH(), rule),
                died,
                answer.others(),
                answer(animals, settings, rule.withEatenOtherWay()).died(),
                best,
                worst,
                counts.died() == 0 && counts.alive() > 0 ? noDeaths(counts.alive(), settings.level()) : null,
                landed == null || died == null || landed.misfit(animals.size()) != null
                        ? null
                        : vessel(landed, died, settings));
    }

    private static Headline.Who who(List<AnimalOutcome> animals, double horizonH, DeathRule rule) {
        List<String> died = new ArrayList<>();
        List<String> other = new ArrayList<>();
        List<String> unknown = new ArrayList<>();
        for (AnimalOutcome animal : animals) {
            int code = rule.code(animal);
            if (code > 0 && animal.atRiskH() <= horizonH) {
                (code == 1 ? died : other).add(animal.animal());
            } else if (animal.atRiskH() < horizonH) {
                unknown.add(animal.animal());
            }
        }
        return new Headline.Who(died, other, unknown);
    }

    static Headline.Counts counts(List<AnimalOutcome> animals, double horizonH, DeathRule rule) {
        int died = 0;
        int other = 0;
        int alive = 0;
        for (AnimalOutcome animal : animals) {
            int code = rule.code(animal);
            if (code > 0 && animal.atRiskH() <= horizonH) {
                died += code == 1 ? 1 : 0;
                other += code == 2 ? 1 : 0;
            } else if (animal.atRiskH() >= horizonH) {
                alive++;
            }
        }
        return new Headline.Counts(animals.size(), died, other, alive, animals.size() - died - other - alive);
    }

    static SurvivalTimes times(List<AnimalOutcome> animals, DeathRule rule) {
        double[] exit = new double[animals.size()];
        int[] event = new int[animals.size()];
        for (int i = 0; i < exit.length; i++) {
            exit[i] = animals.get(i).atRiskH();
            event[i] = rule.code(animals.get(i));
        }
        return SurvivalTimes.fromZero(exit, event);
    }

    /** The headline share under one rule. */
    static Answer answer(List<AnimalOutcome> animals, EstimateSettings settings, DeathRule rule) {
        double horizonH = settings.horizonH();
        if (animals.isEmpty()) {
            return refused("There is no animal.");
        }
        Headline.Counts counts = counts(animals, horizonH, rule);
        if (counts.unknown() == 0) {
            return counted(counts, settings);
        }
        SurvivalTimes times = times(animals, rule);
        SurvivalCurve curve = KaplanMeier.of(times, settings.level());
        if (!curve.reaches(horizonH)) {
            return refused("No animal was watched for " + Text.number(horizonH) + " h: the longest time at risk is "
                    + Text.number(curve.lastTime()) + " h. Ask for a horizon that some animals have reached.");
        }
        SurvivalCurve.Step zero = curve.falseZero();
        if (zero != null && zero.time() <= horizonH) {
            return refused("At " + Text.number(zero.time()) + " h only " + Text.animals(zero.atRisk())
                    + " was still watched, and died: the curve falls to 0 because so few were left, not because"
                    + " all died. Ask for a horizon before " + Text.number(zero.time()) + " h.");
        }
        return counts.otherEnd() == 0 ? fromCurve(curve, counts, settings) : fromIncidence(times, counts, settings);
    }

    /** 1 − S(t) at the horizon, other ends censored; a count's own interval when nobody is lost from sight before it. */
    static Answer curveOnly(List<AnimalOutcome> animals, EstimateSettings settings) {
        Headline.Counts counts = counts(animals, settings.horizonH(), settings.deaths());
        if (counts.unknown() == 0 && counts.otherEnd() == 0) {
            return counted(counts, settings);
        }
        SurvivalCurve curve = KaplanMeier.of(primaryOnly(animals, settings.deaths()), settings.level());
        return fromCurve(curve, counts, settings);
    }

    /** Deaths that count as events, all else censored. */
    static SurvivalTimes primaryOnly(List<AnimalOutcome> animals, DeathRule rule) {
        double[] exit = new double[animals.size()];
        int[] event = new int[animals.size()];
        for (int i = 0; i < exit.length; i++) {
            exit[i] = animals.get(i).atRiskH();
            event[i] = rule.code(animals.get(i)) == 1 ? 1 : 0;
        }
        return SurvivalTimes.fromZero(exit, event);
    }

    private static Answer counted(Headline.Counts counts, EstimateSettings settings) {
        List<Share> others = new ArrayList<>();
        for (BinomialInterval kind : BinomialInterval.values()) {
            if (kind != settings.interval()) {
                others.add(count(counts.died(), counts.animals(), kind, settings.level()));
            }
        }
        return new Answer(
                Method.used(
                        "Deaths over animals, " + settings.interval().shownName() + " interval",
                        List.of(
                                "The fate of every animal is known up to the horizon.",
                                "The animals died independently of each other and with the same chance.",
                                "The tagged animals stand for the animals the result is applied to; this holds for"
                                        + " the place, season and gear of the study.",
                                "Carrying the package did not change the fate.")),
                Headline.Kind.COUNT,
                count(counts.died(), counts.animals(), settings),
                others);
    }

    private static Answer fromCurve(SurvivalCurve curve, Headline.Counts counts, EstimateSettings settings) {
        double survival = curve.survivalAt(settings.horizonH());
        Interval limits =
                BetaProduct.of(curve, settings.horizonH(), counts.alive()).complement();
        List<Share> others = new ArrayList<>();
        SurvivalCurve.Step step = curve.stepAt(settings.horizonH());
        Double low = step == null ? null : step.low();
        Double high = step == null ? null : step.high();
        if (low != null && high != null) {
            others.add(Share.of(1 - survival, new Interval(1 - high, 1 - low), settings.level(), "log-log"));
        }
        return new Answer(
                Method.used(
                        "1 − survival curve (Kaplan–Meier), " + BETA_PRODUCT + " interval",
                        censoringAssumptions(counts, settings)),
                Headline.Kind.SURVIVAL_CURVE,
                Share.of(1 - survival, limits, settings.level(), BETA_PRODUCT),
                others);
    }

    private static Answer fromIncidence(SurvivalTimes times, Headline.Counts counts, EstimateSettings settings) {
        CumulativeIncidence incidence = CumulativeIncidence.of(times, 1, settings.level());
        CumulativeIncidence.Step step = incidence.stepAt(settings.horizonH());
        double share = step == null ? 0 : step.share();
        Double low = step == null ? null : step.low();
        Double high = step == null ? null : step.high();
        List<String> assumptions = new ArrayList<>(censoringAssumptions(counts, settings));
        assumptions.add("Animals that met an end that does not count are taken out of those who could still die from"
                + " the catch; they are not treated as if they could die later.");
        if (low == null || high == null) {
            int known = counts.animals() - counts.unknown();
            String name = "Clopper–Pearson on the " + Text.animals(known) + " whose fate is known to the horizon";
            assumptions.add("With no death that counts the curve has no interval of its own; the interval rests on"
                    + " the animals known to the horizon only.");
            return new Answer(
                    Method.used("Cumulative incidence (Aalen–Johansen), " + name, assumptions),
                    Headline.Kind.CUMULATIVE_INCIDENCE,
                    Share.of(
                            share,
                            BinomialInterval.CLOPPER_PEARSON.of(counts.died(), known, settings.level()),
                            settings.level(),
                            name),
                    List.of());
        }
        return new Answer(
                Method.used("Cumulative incidence (Aalen–Johansen), log-log interval", assumptions),
                Headline.Kind.CUMULATIVE_INCIDENCE,
                Share.of(share, new Interval(low, high), settings.level(), "log-log"),
                List.of());
    }

    private static List<String> censoringAssumptions(Headline.Counts counts, EstimateSettings settings) {
        List<String> words = new ArrayList<>();
        words.add(Text.animals(counts.unknown()) + " of " + counts.animals() + " left our sight before "
                + Text.number(settings.horizonH()) + " h (package off, lost or fate undecided); each counts as alive"
                + " up to its last certain sign of life and as unknown after it.");
        words.add("Those that left our sight would have fared like those still watched. If packages come off dying"
                + " animals more easily, the true share is higher.");
        words.add("The tagged animals stand for the animals the result is applied to; this holds for the place,"
                + " season and gear of the study.");
        words.add("Carrying the package did not change the fate.");
        if (settings.interval() != BinomialInterval.CLOPPER_PEARSON) {
            words.add("The chosen " + settings.interval().shownName() + " interval needs every fate; because fates"
                    + " are missing, the interval named here was used instead.");
        }
        return words;
    }

    private static Headline.NoDeaths noDeaths(int alive, double level) {
        double three = 3.0 / alive;
        return new Headline.NoDeaths(
                alive, BinomialInterval.upperWhenNone(alive, level), level, three > 1 ? null : three);
    }

    /** Alive after both = (1 − a)(1 − m); limits by recovering variances on the log scale (key zou2008). */
    private static Headline.VesselDeaths vessel(LandedCounts landed, Share after, EstimateSettings settings) {
        Share before = count(landed.deadAtVessel(), landed.landed(), settings);
        double alive = (1 - before.value()) * (1 - after.value());
        double down = Math.hypot(
                logRatio(1 - before.value(), 1 - before.high()), logRatio(1 - after.value(), 1 - after.high()));
        double up = Math.hypot(
                logRatio(1 - before.low(), 1 - before.value()), logRatio(1 - after.low(), 1 - after.value()));
        double lowAlive = alive * Math.exp(-down);
        double highAlive = alive > 0 ? alive * Math.exp(up) : (1 - before.low()) * (1 - after.low());
        String name = "combined from the two intervals";
        Share total =
                Share.of(1 - alive, new Interval(1 - Math.min(1, highAlive), 1 - lowAlive), settings.level(), name);
        return new Headline.VesselDeaths(
                Method.used(
                        "At-vessel + (1 − at-vessel) × after release",
                        List.of(
                                "Animals released without a package fare like the tagged ones.",
                                "Deaths before and after release were counted independently.")),
                before,
                total);
    }

    private static double logRatio(double larger, double smaller) {
        if (larger == smaller) {
            return 0;
        }
        return smaller <= 0 ? Double.POSITIVE_INFINITY : Math.log(larger / smaller);
    }

    static Share count(int x, int n, EstimateSettings settings) {
        return count(x, n, settings.interval(), settings.level());
    }

    static Share count(int x, int n, BinomialInterval kind, double level) {
        return Share.of((double) x / n, kind.of(x, n, level), level, kind.shownName());
    }

    private static Answer refused(String reason) {
        return new Answer(Method.refused(NAME, reason), Headline.Kind.REFUSED, null, List.of());
    }
}
