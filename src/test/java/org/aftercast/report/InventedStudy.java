package org.aftercast.report;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.DecidedBy;
import org.aftercast.report.AnimalSection.EvidenceLine;
import org.aftercast.report.AnimalSection.FateSection;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.AnimalSection.RecoveryOutcome;
import org.aftercast.report.AnimalSection.Stage;
import org.aftercast.report.EstimateSection.Curve;
import org.aftercast.report.EstimateSection.FlowLine;
import org.aftercast.report.EstimateSection.MethodNote;
import org.aftercast.report.EstimateSection.RecoveryAcross;
import org.aftercast.report.EstimateSection.RiskLine;
import org.aftercast.report.EstimateSection.ShareLine;
import org.aftercast.report.StudyReport.NameAndValue;
import org.aftercast.report.StudyReport.Origin;

/** An invented study for looking at documents: the numbers are made up and do not follow from one another. */
final class InventedStudy {

    private InventedStudy() {}

    static StudyReport report(int bins) {
        List<AnimalSection> animals = new ArrayList<>();
        for (int i = 1; i <= 12; i++) {
            animals.add(animal(i, bins));
        }
        return new StudyReport(
                new StudyReport.About(
                        "Invented smooth-hounds after release",
                        "starry smooth-hound",
                        "Mustelus asterias",
                        "Cardigan Bay",
                        52.4,
                        -4.3,
                        ZoneId.of("Europe/London"),
                        Origin.INVENTED,
                        List.of("Invented survey team"),
                        "CC-BY-4.0",
                        LocalDate.of(2031, 7, 2),
                        null),
                animals,
                estimate(),
                null,
                new StudyReport.MadeWith(
                        "0.1.0",
                        List.of(new NameAndValue("Java", "17")),
                        "{\n  \"motion\" : {\n    \"noiseMultiple\" : 3.0\n  }\n}",
                        20310614,
                        61,
                        Instant.parse("2031-07-02T10:00:00Z")));
    }

    private static AnimalSection animal(int i, int bins) {
        String name = "SH-%02d".formatted(i);
        CaptureFacts capture = new CaptureFacts(
                null,
                "T" + (1 + i / 5),
                "boat B",
                "bottom rig, squid",
                i % 4 == 0 ? "J hook" : "circle hook",
                i % 5 == 0 ? "gut" : "jaw",
                "taken out",
                i % 5 == 0 ? "heavy" : "none",
                "none",
                Instant.parse("2031-06-14T09:20:00Z").plusSeconds(i * 7200L),
                2.0 + i * 2.5,
                60.0 + 15 * i,
                18.0,
                0.7 + 0.03 * i,
                2.1 + 0.2 * i,
                i % 2 == 0 ? "female" : "male",
                4,
                i % 3,
                i % 4,
                14.5,
                52.4 + i * 0.01,
                -4.3,
                Instant.parse("2031-06-14T09:45:00Z").plusSeconds(i * 7200L),
                "swam off",
                "P-%02d".formatted(i),
                62.0,
                Instant.parse("2031-06-15T09:45:00Z").plusSeconds(i * 7200L),
                i == 3 ? "Line & leader <tangled>; held \"upright\" alongside." : null);
        if (i == 12) {
            return new AnimalSection(name, capture, Stage.AT_SEA, null);
        }
        AnimalFate[] fates = {
            AnimalFate.ALIVE_AT_END, AnimalFate.ALIVE_AT_END, AnimalFate.DIED, AnimalFate.ALIVE_AT_END,
            AnimalFate.EATEN, AnimalFate.ALIVE_AT_END, AnimalFate.DEAD_THEN_SCAVENGED, AnimalFate.UNDECIDED,
            AnimalFate.ALIVE_AT_END, AnimalFate.ALIVE_AT_END, AnimalFate.ALIVE_AT_END
        };
        AnimalFate fate = fates[i - 1];
        boolean alive = fate == AnimalFate.ALIVE_AT_END;
        RecordEnd end = i == 6 ? RecordEnd.SHED_EARLY : RecordEnd.PLANNED_DETACHMENT;
        double atRisk = alive ? (i == 6 ? 9.2 : 22.9) : 2.0 * i;
        Plate p = InventedPlate.plate(bins);
        Plate plate = new Plate(
                name,
                p.series(),
                Instant.parse("2031-06-14T09:40:00Z").plusSeconds(i * 7200L),
                ZoneId.of("Europe/London"),
                p.releaseS(),
                i == 6 ? p.releaseS() + 9.2 * 3600 : p.detachmentS(),
                alive ? null : p.change(),
                p.bouts(),
                p.events(),
                p.gaps(),
                p.nights());
        FateSection section = new FateSection(
                fate,
                end,
                i % 3 == 0 ? DecidedBy.READERS : DecidedBy.RECORD,
                alive ? new FateProbabilities(0.97, 0.01, 0.01, 0.01) : new FateProbabilities(0.05, 0.75, 0.15, 0.05),
                atRisk,
                alive ? null : atRisk,
                alive ? null : atRisk - 0.7,
                alive ? null : atRisk + 0.3,
                List.of(
                        new EvidenceLine("No tailbeat in the last 2.1 h of the record.", "died", 41.0),
                        new EvidenceLine("Roll stayed at 175° ± 6°, belly up.", "died", 12.5),
                        new EvidenceLine("Temperature followed the water within 0.1 °C.", "taken alive", 0.2),
                        new EvidenceLine("Depth changed with the tide only.", "died", Double.NaN)),
                List.of("A tailbeat of its own after 21 h would speak for life."),
                i % 3 == 0
                        ? List.of(new AnimalSection.VerdictLine(
                                "first",
                                "R1",
                                fate,
                                end,
                                "Belly up and no beats to the end.",
                                Instant.parse("2031-07-01T09:00:00Z")))
                        : List.of(),
                "/fate");
        List<RecoveryLine> recovery = List.of(
                new RecoveryLine(
                        "beat frequency",
                        "80 % of the way from its first value to its later normal",
                        i == 5
                                ? RecoveryOutcome.NOT_WITHIN_RECORD
                                : i == 8 ? RecoveryOutcome.CANNOT_TELL : RecoveryOutcome.RECOVERED,
                        2.0 + i * 0.7,
                        1.2 + i * 0.4,
                        i == 9 ? Double.POSITIVE_INFINITY : 4.0 + i,
                        "95 % block bootstrap interval",
                        null,
                        "/recovery/0"),
                new RecoveryLine(
                        "activity",
                        "80 % of the way from its first value to its later normal",
                        i == 2 ? RecoveryOutcome.NOTHING_TO_RECOVER : RecoveryOutcome.RECOVERED,
                        1.0 + i * 0.3,
                        Double.NaN,
                        Double.NaN,
                        "",
                        null,
                        "/recovery/1"));
        return new AnimalSection(
                name,
                capture,
                Stage.READ,
                new ReadingSection(
                        plate,
                        24,
                        section,
                        recovery,
                        "Both measures were disturbed at the release.",
                        new AnimalSection.MotionFacts(
                                20,
                                0.35,
                                2.6,
                                "From the species' length by the rule of the settings.",
                                0.2,
                                0.004,
                                61234,
                                null,
                                i == 4
                                        ? List.of("The mount shifted by 6° at 11.2 h; the frame was found anew.")
                                        : List.of()),
                        new AnimalSection.Chain(
                                List.of(new AnimalSection.RawLink(
                                        "raw/" + sha(i) + "-" + name + ".csv", name + ".csv", sha(i), 41_000_000L + i)),
                                "recordings/" + name + ".parquet",
                                sha(i + 100),
                                "readings/" + name,
                                sha(i + 200),
                                sha(999),
                                "0.1.0",
                                Map.of("reading.json", sha(i + 300), "seconds.parquet", sha(i + 400)),
                                "reading.json")));
    }

    private static String sha(int i) {
        return "%064x"
                .formatted(java.math.BigInteger.valueOf(7919L * i + 13).pow(16))
                .substring(0, 64);
    }

    private static EstimateSection estimate() {
        double nan = Double.NaN;
        return new EstimateSection(
                24,
                "animals that died or were eaten, within 24 h of release",
                new ShareLine("declared answer", 0.273, 0.06, 0.61, 0.95, "Clopper–Pearson", null),
                new EstimateSection.Counts(11, 3, 0, 6, 2),
                List.of(
                        new ShareLine("", 0.273, 0.097, 0.566, 0.95, "Wilson", null),
                        new ShareLine("", 0.273, 0.083, 0.566, 0.95, "Jeffreys", null)),
                List.of(
                        new ShareLine("undecided animal counted as dead", 0.36, 0.11, 0.69, 0.95, "", "worst case"),
                        new ShareLine("undecided animal counted as alive", 0.25, 0.06, 0.57, 0.95, "", "best case"),
                        new ShareLine("eaten animals not counted", 0.18, 0.02, 0.52, 0.95, "", null)),
                List.of(new Curve(
                        "",
                        new double[] {6, 10, 14},
                        new double[] {0.909, 0.808, 0.707},
                        new double[] {0.508, 0.42, 0.34},
                        new double[] {0.987, 0.95, 0.9},
                        new double[] {9.2, 16, 22.9, 22.9, 22.9, 22.9, 22.9, 22.9},
                        new double[] {6, 10, 14, 9.2, 16, 22.9, 22.9, 22.9, 22.9, 22.9, 22.9},
                        22.9,
                        "95 % log-log interval, Kaplan–Meier",
                        3)),
                List.of(
                        new FlowLine("landed", 19, 0),
                        new FlowLine("dead before release", 1, 1),
                        new FlowLine("released without a package", 6, 1),
                        new FlowLine("released with a package", 12, 1),
                        new FlowLine("package lost or at sea", 1, 2),
                        new FlowLine("record usable", 11, 2)),
                List.of(
                        new RiskLine(
                                "fight, per 10 min",
                                2.4,
                                0.9,
                                8.1,
                                "odds ratio, penalised logistic",
                                0.09,
                                11,
                                3,
                                "Fewer than 5 deaths per factor: the data cannot tell."),
                        new RiskLine("hooked deep", 6.2, 0.7, 90, "odds ratio, penalised logistic", 0.11, 11, 3, null)),
                List.of(
                        new RecoveryAcross(
                                "beat frequency", 5.4, 3.9, 7.8, "random-effects mean of log hours", 10, 1, null),
                        new RecoveryAcross("activity", 2.1, nan, nan, "median", 10, 0, null)),
                List.of(new EstimateSection.Block(
                        EstimateSection.Place.ENDS_AND_GROUPS,
                        "By hook",
                        List.of("Difference of the shares: +10.0 points."),
                        List.of(new EstimateSection.TextTable(
                                "Share that died in each group.",
                                List.of("hook", "died"),
                                List.of(1),
                                List.of(List.of("circle", "1 of 6"), List.of("j-hook", "2 of 5")))))),
                new EstimateSection.Who(List.of("SH-02", "SH-05", "SH-07"), List.of(), List.of("SH-03", "SH-09")),
                List.of(
                        new MethodNote(
                                "Share that died",
                                "share by survival curve, Clopper–Pearson interval",
                                List.of("Animals that left our sight fare like those still watched."),
                                null),
                        new MethodNote(
                                "By hook",
                                "log-rank test between groups",
                                List.of(),
                                "One of the groups has no animal.")),
                List.of("No correction was made for the package's own burden."));
    }
}
