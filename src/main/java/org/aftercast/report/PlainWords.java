package org.aftercast.report;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.DecidedBy;
import org.aftercast.report.AnimalSection.FateSection;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.EstimateSection.RecoveryAcross;
import org.aftercast.report.EstimateSection.ShareLine;

/** Results as sentences for people who were not there. */
final class PlainWords {

    static final String INVENTED = "Invented data: no animal, vessel or person in this report is real.";

    private static final DateTimeFormatter WHEN = DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH);

    private static final DateTimeFormatter SHORTLY = DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm", Locale.ENGLISH);

    /** Below this the record's own opinion on a fate is called not certain. */
    private static final double SURE = 0.9;

    private PlainWords() {}

    /** As {@link #when}, with the month cut to three letters: for tables. */
    static String shortly(Instant instant, ZoneId zone) {
        return instant.atZone(zone).format(SHORTLY);
    }

    static String when(Instant instant, ZoneId zone) {
        return instant.atZone(zone).format(WHEN);
    }

    /** One sentence on what happened to an animal after its release. */
    static String whatHappened(AnimalSection animal) {
        ReadingSection reading = animal.reading();
        if (reading == null) {
            return switch (animal.stage()) {
                case NOT_RELEASED -> "Not released yet.";
                case AT_SEA -> "Its package is still at sea; nothing is known after release.";
                case LOST -> "The search for its package was abandoned; nothing is known after release.";
                case RETRIEVED -> "Its package is back in hand, but the download has not been loaded.";
                case STRANDED -> "Its package was found ashore, but the download has not been loaded.";
                case HANDED_IN -> "Its package was handed in, but the download has not been loaded.";
                case LOADED -> "Its recording is loaded but has not been read.";
                case READ -> "Its recording was read without a result.";
            };
        }
        FateSection fate = reading.fate();
        String ending = switch (fate.animal()) {
            case ALIVE_AT_END -> alive(reading);
            case DIED -> "Died " + changed(fate) + ".";
            case DEAD_THEN_SCAVENGED -> "Died " + changed(fate) + " and was then fed upon by other animals.";
            case EATEN -> "Was taken alive by a larger animal " + changed(fate) + ".";
            case UNDECIDED ->
                "The record cannot tell what became of it; the last certain sign of life came "
                        + duration(fate.atRiskH()) + " after release.";
        };
        return ending + howSure(fate);
    }

    /** A kind of bout in the words of the pages. */
    static String bout(BoutKind kind) {
        return switch (kind) {
            case WEAK_AT_SURFACE -> "weak at the surface";
            case INSIDE_PREDATOR -> "inside a predator";
            case DESCENDING, RESTING, SWIMMING, MOTIONLESS, AFLOAT -> kind.word();
        };
    }

    /** Minutes up to an hour and a half, hours beyond. */
    static String duration(double hours) {
        if (Double.isNaN(hours)) {
            return "an unknown time";
        }
        return hours < 1.5 ? Num.fixed(hours * 60, 0) + " min" : Num.fixed(hours, 1) + " h";
    }

    /** Two durations as {@code 3 to 12 min} or {@code 6 min to 9.7 h}; an open end as "no limit". */
    static String durations(double lowH, double highH) {
        if (Double.isInfinite(highH)) {
            return duration(lowH) + " to no limit";
        }
        String low = duration(lowH);
        String high = duration(highH);
        String unit = high.substring(high.lastIndexOf(' '));
        return low.endsWith(unit)
                ? low.substring(0, low.length() - unit.length()) + " to " + high
                : low + " to " + high;
    }

    private static String alive(ReadingSection reading) {
        FateSection fate = reading.fate();
        String hours = duration(fate.atRiskH());
        double offH = (reading.plate().detachmentS() - reading.plate().releaseS()) / 3600;
        boolean earlier = offH - fate.atRiskH() > 0.1;
        String lastSign = "Was alive at the last certain sign of life, " + hours + " after release; ";
        return switch (fate.end()) {
            case PLANNED_DETACHMENT ->
                earlier
                        ? lastSign + "its package came off as planned after " + duration(offH) + "."
                        : "Was alive when its package came off as planned, " + hours + " after release.";
            case SHED_EARLY ->
                earlier
                        ? lastSign + "its package came off early, after " + duration(offH)
                                + ", and nothing is known after that."
                        : "Lost its package early, " + hours
                                + " after release; it was alive then, and nothing is known after that.";
            case LOGGER_STOPPED -> "Was alive when its logger stopped, " + hours + " after release.";
            case FLOODED -> "Was alive when water got into its logger, " + hours + " after release.";
            case PACKAGE_LOST -> "Was alive at the last sign we have, " + hours + " after release.";
        };
    }

    /** When it ended, as {@code 13.4 h (known to within 2 min) after release} or {@code at release}. */
    static String changed(FateSection fate) {
        Double at = fate.changeH();
        Double low = fate.changeLowH();
        Double high = fate.changeHighH();
        double hours = at == null ? fate.atRiskH() : at;
        String known = "";
        if (at != null && low != null && high != null) {
            known = high - low < 0.1
                    ? " (known to within " + Num.fixed(Math.max(1, Math.ceil((high - low) * 60)), 0) + " min)"
                    : " (between " + duration(Math.max(0, low)) + " and " + duration(high) + ")";
        }
        return hours < 0.5 / 60 ? "at release" + known : duration(hours) + known + " after release";
    }

    private static String howSure(FateSection fate) {
        FateProbabilities p = fate.probabilities();
        if (p == null || fate.animal() == AnimalFate.UNDECIDED) {
            return "";
        }
        double own = switch (fate.animal()) {
            case DIED, DEAD_THEN_SCAVENGED -> p.died();
            case EATEN -> p.eaten();
            case ALIVE_AT_END -> p.survived() + p.shed();
            case UNDECIDED -> Double.NaN;
        };
        if (fate.decidedBy() == DecidedBy.RECORD) {
            return own < SURE ? " Not certain: the record gives this " + Num.percent(own) + "." : "";
        }
        return own < 0.5
                ? " Decided by " + by(fate) + "; the record alone gives this only " + Num.percent(own) + "."
                : "";
    }

    static String by(FateSection fate) {
        return switch (fate.decidedBy()) {
            case RECORD -> "the program from the record alone";
            case READER -> "one reader";
            case READERS -> "two readers together";
        };
    }

    /** How it was caught, as one sentence; an empty text when nothing is known. */
    static String caught(AnimalSection animal, ZoneId zone) {
        CaptureFacts c = animal.capture();
        List<String> parts = new ArrayList<>();
        String hook = c.hookLocation();
        if (hook != null) {
            parts.add("hooked in the " + hook);
        }
        Double fight = c.fightMin();
        if (fight != null) {
            parts.add("fought for " + Num.fixed(fight, 0) + " min");
        }
        Double air = c.airExposureS();
        if (air != null) {
            parts.add("held in air for " + Num.fixed(air, 0) + " s");
        }
        String what = "Animal " + animal.name();
        Double length = c.lengthM();
        String sex = c.sex();
        boolean sexKnown = sex != null && !sex.equals("unknown");
        if (length != null || sexKnown) {
            what += ", a" + (length == null ? "" : " " + Num.fixed(length, 2) + " m")
                    + (sexKnown ? " " + sex : length == null ? "" : " animal") + ",";
        }
        Instant released = c.releasedUtc();
        String state = c.releaseState();
        String letGo = released == null
                ? ""
                : "released on " + when(released, zone) + (state == null ? "" : " (" + state + ")");
        if (!letGo.isEmpty()) {
            parts.add(letGo);
        }
        return parts.isEmpty() ? "" : what + " was " + listed(parts) + ".";
    }

    static String listed(List<String> parts) {
        return switch (parts.size()) {
            case 0 -> "";
            case 1 -> parts.get(0);
            default -> String.join(", ", parts.subList(0, parts.size() - 1)) + " and " + parts.get(parts.size() - 1);
        };
    }

    static String evidence(AnimalSection.EvidenceLine line) {
        if (Double.isNaN(line.odds())) {
            return "shown, not weighed";
        }
        if (line.odds() >= 1) {
            return odds(line.odds()) + " times more likely";
        }
        return line.odds() > 0 ? odds(1 / line.odds()) + " times less likely" : "impossible";
    }

    private static String odds(double ratio) {
        if (ratio > 1000) {
            return "more than 1000";
        }
        return ratio >= 9.95 ? Num.significant(ratio).replaceAll("\\.\\d$", "") : Num.fixed(ratio, 1);
    }

    static String recovery(RecoveryLine line) {
        return switch (line.outcome()) {
            case RECOVERED ->
                duration(line.hours()) + " after release"
                        + (Double.isNaN(line.lowH()) ? "" : " (" + durations(line.lowH(), line.highH()) + ")");
            case NOT_WITHIN_RECORD ->
                Double.isNaN(line.hours())
                        ? "not recovered within the record"
                        : ("more than " + duration(line.hours())).replace(' ', '\u00a0');
            case NOTHING_TO_RECOVER -> "no difference from its own later normal";
            case CANNOT_TELL -> "the record cannot tell";
        };
    }

    /** "About 15 in 100 … anywhere between 4 and 35 in 100." */
    static String inHundred(ShareLine share, EstimateSection estimate) {
        String level = Num.fixed(share.level() * 100, 0);
        return (share.value() == 0
                        ? "No animal was seen to die"
                        : "About " + inHundred(share.value()) + " in 100 animals die")
                + " within " + Num.fixed(estimate.horizonH(), 0)
                + " h of release. With so few animals watched, the true figure could be anywhere between "
                + inHundred(share.low()) + " and " + inHundred(share.high()) + " in 100 (" + level + " % interval).";
    }

    private static String inHundred(double share) {
        double hundred = share * 100;
        return hundred > 0 && hundred < 1 ? "fewer than 1" : Num.fixed(hundred, 0);
    }

    /** The sentences of the page for managers. */
    static List<String> managers(StudyReport report) {
        List<String> out = new ArrayList<>();
        int all = report.animals().size();
        long read = report.animals().stream().filter(a -> a.reading() != null).count();
        String species = report.about().species();
        out.add(StudyFigures.counted(all, "animal", "animals") + (species == null ? "" : " (" + species + ")")
                + (all == 1 ? " is" : " are") + " in this study"
                + (report.about().site() == null ? "" : ", " + report.about().site()) + ". "
                + (read == all
                        ? "For every one of them there is a record of what it did after release."
                        : "For " + read + " there is a record of what the animal did after release; for the other "
                                + (all - read) + " there is none."));
        out.add(fatesInWords(report));
        EstimateSection estimate = report.estimate();
        if (estimate == null) {
            out.add("No estimate for all animals has been made.");
            return out;
        }
        ShareLine share = estimate.headline();
        if (share == null) {
            out.add("The records are not enough to state which share dies within " + Num.fixed(estimate.horizonH(), 0)
                    + " h; the reason is given with the estimate.");
        } else if (Double.isNaN(share.low())) {
            out.add("About " + inHundred(share.value()) + " in 100 animals die within "
                    + Num.fixed(estimate.horizonH(), 0) + " h of release.");
        } else {
            out.add(inHundred(share, estimate));
        }
        out.add("Counted as a death: " + estimate.deathRule() + ".");
        estimate.remarks().stream()
                .filter(remark -> remark.startsWith("Dead before release: "))
                .findFirst()
                .ifPresent(out::add);
        estimate.blocks().stream()
                .filter(block -> block.title().equals(EstimateSection.IN_NUMBERS))
                .flatMap(block -> block.sentences().stream())
                .findFirst()
                .ifPresent(out::add);
        estimate.recovery().stream()
                .filter(r -> r.animals() > 0)
                .min(Comparator.<RecoveryAcross>comparingInt(r -> r.measure().startsWith("beat frequency") ? 0 : 1)
                        .thenComparingInt(r -> -r.animals()))
                .ifPresent(recovery -> out.add(recovered(recovery)));
        return out;
    }

    /** One measure stands for all, and where it gives no time no other is put in its place. */
    static String recovered(RecoveryAcross recovery) {
        String who = StudyFigures.counted(recovery.animals(), "animal", "animals");
        String open = recovery.censored() + " of the " + who;
        if (Double.isNaN(recovery.hours())) {
            return "No time of recovery can be given: by the " + recovery.measure() + ", the records of " + open
                    + " that the release disturbed do not tell when it was back to normal.";
        }
        return "Half of the " + who + " that the release disturbed had recovered, as told by the " + recovery.measure()
                + ", by " + duration(recovery.hours()) + " after it"
                + (Double.isNaN(recovery.lowH())
                        ? ""
                        : Double.isInfinite(recovery.highH())
                                ? " (at least " + duration(recovery.lowH()) + ")"
                                : " (" + durations(recovery.lowH(), recovery.highH()) + ")")
                + (recovery.censored() == 0
                        ? "."
                        : "; of " + recovery.censored() + " among them the record tells only that it took longer.");
    }

    static String fatesInWords(StudyReport report) {
        List<String> parts = new ArrayList<>();
        for (AnimalFate fate : AnimalFate.values()) {
            int count = 0;
            for (AnimalSection animal : report.animals()) {
                ReadingSection reading = animal.reading();
                if (reading != null && reading.fate().animal() == fate) {
                    count++;
                }
            }
            if (count == 0) {
                continue;
            }
            String verb = count == 1 ? "was" : "were";
            parts.add(
                    switch (fate) {
                        case ALIVE_AT_END -> count + " " + verb + " alive at the last certain sign";
                        case DIED -> count + " died";
                        case EATEN -> count + " " + verb + " taken alive by a larger animal";
                        case DEAD_THEN_SCAVENGED -> count + " died and " + verb + " then fed upon";
                        case UNDECIDED -> count + " could not be decided";
                    });
        }
        return parts.isEmpty() ? "No record has been read yet." : "Of these, " + listed(parts) + ".";
    }

    /** What a reader must keep in mind, whatever the numbers. */
    static List<String> limits(StudyReport report) {
        List<String> out = new ArrayList<>();
        out.add("The animals come from the places and seasons of this study; nothing here says that it is the same"
                + " elsewhere.");
        out.add(
                "Every animal carried a package. What the package itself does to an animal cannot be separated from what"
                        + " the catch does, unless animals were watched that had not been caught this way.");
        EstimateSection estimate = report.estimate();
        out.add("An animal whose package came off early or was never found counts only up to its last certain sign of"
                + " life. If such animals fare differently from the others, the share is off"
                + (estimate == null || estimate.robustness().isEmpty()
                        ? "."
                        : "; the table of other choices shows how far it could move."));
        out.add("Deaths after the end of the records are not seen.");
        return out;
    }

    static List<String> poster(StudyReport report) {
        List<String> out = new ArrayList<>();
        int all = report.animals().size();
        out.add("We let " + all + " go with a small float that listened to how each one swam. "
                + fatesInWords(report).replace("Of these, ", "Of those, "));
        EstimateSection estimate = report.estimate();
        ShareLine share = estimate == null ? null : estimate.headline();
        if (estimate != null && share != null && !Double.isNaN(share.low())) {
            // without the name and level of the interval: for readers who want no statistics
            out.add(inHundred(share, estimate).replaceFirst(" \\([0-9.]+ % interval\\)", ""));
        }
        return out;
    }

    static List<String> posterLimits(StudyReport report) {
        return List.of("One place, one season, " + report.animals().size()
                + " fish. The float may itself be a burden. Follow local rules on handling and release.");
    }
}
