package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.Event;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.EvidenceLine;
import org.aftercast.report.AnimalSection.FateSection;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.AnimalSection.VerdictLine;
import org.aftercast.report.EstimateSection.Curve;
import org.aftercast.report.EstimateSection.ShareLine;

/** The tables of the open data, from a report. Hours count from the animal's release, seconds from the first sample. */
final class DataTables {

    private static final String ANIMAL = "Name of the animal in the study.";

    private DataTables() {}

    static List<DataTable> of(StudyReport report) {
        List<DataTable> out = new ArrayList<>();
        out.add(animals(report));
        out.add(fates(report));
        out.add(evidence(report));
        out.add(verdicts(report));
        out.add(recovery(report));
        out.add(bouts(report));
        out.add(events(report));
        out.add(series(report));
        out.add(whoWasTagged(report));
        out.add(shares(report));
        out.add(survival(report));
        out.add(sources(report));
        out.removeIf(table -> table.rowCount() == 0 && !table.name.equals("animals"));
        return out;
    }

    private static DataTable animals(StudyReport report) {
        DataTable table = new DataTable("animals", "Animals: catch, handling, release")
                .text("animal", ANIMAL)
                .text("stage", "How far the animal has come.")
                .text("species", "Species where it differs from the study's.")
                .text("trip", "Trip.")
                .text("vessel", "Vessel or its code.")
                .text("gear", "Gear and bait.")
                .text("hookType", "Kind of hook.")
                .text("hookLocation", "Where the hook sat.")
                .text("hookLeft", "Whether the hook stayed in.")
                .text("bleeding", "How much blood was seen.")
                .text("barotrauma", "Signs of pressure injury.")
                .time("hookedUtc", "When the fight began.")
                .number("fightMin", "min", "Length of the fight.")
                .number("airExposureS", "s", "Time in air.")
                .number("captureDepthM", "m", "Depth at which it was hooked.")
                .number("lengthM", "m", "Length.")
                .number("massKg", "kg", "Mass.")
                .text("sex", "Sex.")
                .integer("reflexesTested", "Number of reflexes tested.")
                .integer("reflexesMissing", "Number of those that were absent.")
                .integer("injuryScore", "0 none, 1 slight, 2 moderate, 3 severe.")
                .number("waterTempC", "°C", "Temperature of the water at the surface.")
                .number("latDeg", "°", "Latitude of capture, WGS 84, north positive.")
                .number("lonDeg", "°", "Longitude of capture, WGS 84, east positive.")
                .time("releasedUtc", "When it was let go.")
                .text("releaseState", "How it went.")
                .text("packageSerial", "The package it carried.")
                .number("packageMassG", "g", "Mass of the package in air.")
                .time("plannedDetachmentUtc", "When the package was meant to come off.")
                .text("notes", "Free text.")
                .key("animal");
        for (AnimalSection animal : report.animals()) {
            CaptureFacts c = animal.capture();
            table.row(
                    animal.name(),
                    animal.stage().words(),
                    c.species(),
                    c.trip(),
                    c.vessel(),
                    c.gear(),
                    c.hookType(),
                    c.hookLocation(),
                    c.hookLeft(),
                    c.bleeding(),
                    c.barotrauma(),
                    c.hookedUtc(),
                    c.fightMin(),
                    c.airExposureS(),
                    c.captureDepthM(),
                    c.lengthM(),
                    c.massKg(),
                    c.sex(),
                    c.reflexesTested(),
                    c.reflexesMissing(),
                    c.injuryScore(),
                    c.waterTempC(),
                    c.latDeg(),
                    c.lonDeg(),
                    c.releasedUtc(),
                    c.releaseState(),
                    c.packageSerial(),
                    c.packageMassG(),
                    c.plannedDetachmentUtc(),
                    c.notes());
        }
        return table;
    }

    private static DataTable fates(StudyReport report) {
        DataTable table = new DataTable("fates", "What became of each animal and how its record ended")
                .text("animal", ANIMAL)
                .text("fate", "alive-at-end, died, eaten, dead-then-scavenged or undecided.")
                .text("recordEnd", "planned-detachment, shed-early, logger-stopped, flooded or package-lost.")
                .number("atRiskH", "h", "Hours from release to death or to the last certain sign of life.")
                .number("changeH", "h", "Hours from release to death, to being eaten or to losing the package.")
                .number("changeLowH", "h", "Earliest.")
                .number("changeHighH", "h", "Latest.")
                .text("decidedBy", "record, reader, readers, or nobody.")
                .number("pSurvived", "", "Probability that it lived to the end of its record, 0 to 1.")
                .number("pDied", "", "Probability that it died, 0 to 1.")
                .number("pEaten", "", "Probability that it was taken alive, 0 to 1.")
                .number("pShed", "", "Probability that its package came off early while it lived, 0 to 1.")
                .text("inWords", "One sentence.")
                .key("animal")
                .refersTo("animal", "animals");
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading == null) {
                if (animal.stage().withoutPackage() && animal.capture().packageSerial() != null) {
                    // as the estimate has it: nothing was seen of it after the release
                    table.row(
                            animal.name(),
                            "undecided",
                            "package-lost",
                            0.0,
                            null,
                            null,
                            null,
                            "nobody",
                            null,
                            null,
                            null,
                            null,
                            PlainWords.whatHappened(animal));
                }
                continue;
            }
            FateSection fate = reading.fate();
            FateProbabilities p = fate.probabilities();
            table.row(
                    animal.name(),
                    word(fate.animal()),
                    word(fate.end()),
                    fate.atRiskH(),
                    fate.changeH(),
                    fate.changeLowH(),
                    fate.changeHighH(),
                    word(fate.decidedBy()),
                    p == null ? null : p.survived(),
                    p == null ? null : p.died(),
                    p == null ? null : p.eaten(),
                    p == null ? null : p.shed(),
                    PlainWords.whatHappened(animal));
        }
        return table;
    }

    private static DataTable evidence(StudyReport report) {
        DataTable table = new DataTable("evidence", "What each record shows about the animal's fate")
                .text("animal", ANIMAL)
                .integer("number", "1 for the most telling.")
                .text("sentence", "What was seen.")
                .text("towards", "The ending it speaks for or against.")
                .number("odds", "", "How many times more likely this is under that ending than had it lived.")
                .key("animal", "number")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            int k = 1;
            for (EvidenceLine line : reading.fate().evidence()) {
                table.row(animal.name(), k++, line.sentence(), line.towards(), line.odds());
            }
        });
        return table;
    }

    private static DataTable verdicts(StudyReport report) {
        DataTable table = new DataTable("verdicts", "Verdicts of readers")
                .text("animal", ANIMAL)
                .integer("number", "1, 2 … for one animal.")
                .text("role", "first, second or settled.")
                .text("reader", "Code of the reader.")
                .text("fate", "As in the table of fates.")
                .text("recordEnd", "As in the table of fates.")
                .text("reason", "Why.")
                .time("lockedUtc", "When it was locked.")
                .key("animal", "number")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            int k = 1;
            for (VerdictLine v : reading.fate().verdicts()) {
                table.row(
                        animal.name(),
                        k++,
                        v.role(),
                        v.reader(),
                        word(v.animal()),
                        word(v.end()),
                        v.reason(),
                        v.lockedUtc());
            }
        });
        return table;
    }

    private static DataTable recovery(StudyReport report) {
        DataTable table = new DataTable("recovery", "Return of each measure to the animal's own normal")
                .text("animal", ANIMAL)
                .text("measure", "What was followed.")
                .text("outcome", "recovered, not-within-record, nothing-to-recover or cannot-tell.")
                .number("hours", "h", "Hours from release; empty unless it returned within the record.")
                .number("lowH", "h", "Lower limit of the interval.")
                .number("highH", "h", "Upper limit of the interval; empty when open.")
                .text("interval", "Kind of interval.")
                .text("definition", "What recovered means.")
                .key("animal", "measure")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            for (RecoveryLine line : reading.recovery()) {
                table.row(
                        animal.name(),
                        line.measure(),
                        word(line.outcome()),
                        line.outcome() == AnimalSection.RecoveryOutcome.RECOVERED ? line.hours() : Double.NaN,
                        line.lowH(),
                        line.highH(),
                        line.interval(),
                        line.definition());
            }
        });
        return table;
    }

    private static DataTable bouts(StudyReport report) {
        DataTable table = new DataTable("bouts", "Stretches of one kind of behaviour")
                .text("animal", ANIMAL)
                .text("kind", "weak-at-surface, descending, resting, swimming, motionless, inside-predator or afloat.")
                .number("startS", "s", "Start, from the first sample.")
                .number("endS", "s", "End, from the first sample.")
                .number("probability", "", "Mean probability of the kind over the stretch, 0 to 1.")
                .key("animal", "startS")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            for (Bout b : reading.plate().bouts()) {
                table.row(animal.name(), b.kind().word(), b.startS(), b.endS(), b.probability());
            }
        });
        return table;
    }

    private static DataTable events(StudyReport report) {
        DataTable table = new DataTable("events", "Short events")
                .text("animal", ANIMAL)
                .text("kind", "burst, predator-attack or surfacing.")
                .number("atS", "s", "Onset, from the first sample.")
                .number("durationS", "s", "Length.")
                .number("size", "", "Peak activity over the animal's own median while swimming.")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            for (Event e : reading.plate().events()) {
                table.row(animal.name(), e.kind().word(), e.atS(), e.durationS(), e.size());
            }
        });
        return table;
    }

    private static DataTable series(StudyReport report) {
        DataTable table = new DataTable("series", "Recordings thinned to equal bins: median of each bin")
                .text("animal", ANIMAL)
                .number("fromS", "s", "Start of the bin, from the first sample.")
                .number("binS", "s", "Width of the bin.")
                .number("depthM", "m", "Depth, positive down.")
                .number("tempC", "°C", "Temperature.")
                .number("pitchDeg", "°", "Pitch, head up positive.")
                .number("rollDeg", "°", "Roll, right side down positive.")
                .number("beatHz", "Hz", "Beat frequency; empty while gliding or still.")
                .number("beatAmplitudeG", "g", "Beat amplitude.")
                .number("swayRmsG", "g", "Root mean square of the sideways acceleration in the tailbeat band.")
                .key("animal", "fromS")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            PlateSeries s = reading.plate().series();
            for (int i = 0; i < s.count(); i++) {
                table.row(
                        animal.name(),
                        Math.round((s.fromS() + i * s.binS()) * 1000) / 1000.0,
                        Math.round(s.binS() * 1000) / 1000.0,
                        s.depthM().middle()[i],
                        s.tempC().middle()[i],
                        s.pitchDeg().middle()[i],
                        s.rollDeg().middle()[i],
                        s.beatHz().middle()[i],
                        s.beatAmplitudeG().middle()[i],
                        s.swayG().middle()[i]);
            }
        });
        return table;
    }

    private static DataTable whoWasTagged(StudyReport report) {
        DataTable table = new DataTable("who-was-tagged", "From the landing to the fate")
                .integer("line", "Order of the stages, from 1.")
                .text("stage", "Stage in words.")
                .integer("depth", "0 for the first stage, one more for a part of the stage above it.")
                .integer("animals", "How many.")
                .key("line");
        EstimateSection estimate = report.estimate();
        if (estimate != null) {
            int line = 1;
            for (EstimateSection.FlowLine stage : estimate.flow()) {
                table.row(line++, stage.name(), stage.depth(), stage.animals());
            }
        }
        return table;
    }

    private static DataTable shares(StudyReport report) {
        DataTable table = new DataTable(
                        "shares", "The share of animals that died, with intervals and under other choices")
                .text("label", "What it is, or which choice was changed.")
                .number("horizonH", "h", "Hours after release.")
                .number("value", "", "Share, 0 to 1.")
                .number("low", "", "Lower limit.")
                .number("high", "", "Upper limit.")
                .number("level", "", "Coverage of the interval.")
                .text("interval", "Kind of interval.")
                .text("remark", "Remark.");
        EstimateSection estimate = report.estimate();
        if (estimate != null) {
            List<ShareLine> lines = new ArrayList<>();
            ShareLine headline = estimate.headline();
            if (headline != null) {
                lines.add(headline);
            }
            lines.addAll(estimate.sameShareOtherIntervals());
            lines.addAll(estimate.robustness());
            for (ShareLine line : lines) {
                table.row(
                        line.label(),
                        estimate.horizonH(),
                        line.value(),
                        line.low(),
                        line.high(),
                        line.level(),
                        line.interval(),
                        line.remark());
            }
        }
        return table;
    }

    private static DataTable survival(StudyReport report) {
        DataTable table = new DataTable("survival", "Survival curve: one row per time of death")
                .text("group", "Group, empty for all animals.")
                .number("timeH", "h", "Hours after release.")
                .number("survival", "", "Share alive from then on.")
                .number("low", "", "Lower limit.")
                .number("high", "", "Upper limit.")
                .text("interval", "Kind of interval.");
        EstimateSection estimate = report.estimate();
        if (estimate != null) {
            for (Curve c : estimate.curves()) {
                for (int i = 0; i < c.timeH().length; i++) {
                    table.row(c.name(), c.timeH()[i], c.survival()[i], c.low()[i], c.high()[i], c.interval());
                }
            }
        }
        return table;
    }

    private static DataTable sources(StudyReport report) {
        DataTable table = new DataTable("sources", "From the bytes as downloaded to the numbers")
                .text("animal", ANIMAL)
                .text("what", "download, recording, reading or result.")
                .text("path", "Path within the study folder.")
                .text("sha256", "SHA-256 of the file; for a reading its key.")
                .text("softwareVersion", "Version that made it, for readings.")
                .key("animal", "path")
                .refersTo("animal", "animals");
        forEachReading(report, (animal, reading) -> {
            AnimalSection.Chain chain = reading.chain();
            for (AnimalSection.RawLink raw : chain.raw()) {
                table.row(animal.name(), "download", raw.file(), raw.sha256(), null);
            }
            table.row(animal.name(), "recording", chain.recordingFile(), chain.recordingSha256(), null);
            table.row(animal.name(), "reading", chain.readingFolder(), chain.readingKey(), chain.softwareVersion());
            chain.readingFiles()
                    .forEach((file, sha) -> table.row(
                            animal.name(), "result", chain.readingFolder() + "/" + file, sha, chain.softwareVersion()));
        });
        return table;
    }

    private interface WithReading {
        void accept(AnimalSection animal, ReadingSection reading);
    }

    private static void forEachReading(StudyReport report, WithReading action) {
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading != null) {
                action.accept(animal, reading);
            }
        }
    }

    static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
