package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.Event;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.EvidenceLine;
import org.aftercast.report.AnimalSection.FateSection;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.AnimalSection.VerdictLine;
import org.jspecify.annotations.Nullable;

/** One section per animal: a stranger can say from it what happened. */
final class AnimalPart {

    private final StudyReport report;
    private final Html html;
    private final AnimalSection animal;

    private AnimalPart(StudyReport report, Html html, AnimalSection animal) {
        this.report = report;
        this.html = html;
        this.animal = animal;
    }

    static void write(StudyReport report, Html html) {
        // those without a record need little room: they stand together at the end
        for (AnimalSection animal : report.animals()) {
            if (animal.reading() != null) {
                new AnimalPart(report, html, animal).write();
            }
        }
        boolean first = report.animals().stream().anyMatch(a -> a.reading() != null);
        for (AnimalSection animal : report.animals()) {
            if (animal.reading() == null) {
                new AnimalPart(report, html, animal).write(first ? " new-page" : "");
                first = false;
            }
        }
    }

    private void write() {
        write("");
    }

    private void write(String more) {
        ReadingSection reading = animal.reading();
        html.open(
                "section",
                "id",
                StudyDocument.anchor(report, animal),
                "class",
                (reading == null ? "animal short" : "animal")
                        + (report.animals().indexOf(animal) == 0 ? " first" : "")
                        + more);
        html.element("h3", "Animal " + animal.name());
        String caught = PlainWords.caught(animal, report.about().zone());
        if (!caught.isEmpty()) {
            html.p(caught);
        }
        html.element("p", PlainWords.whatHappened(animal), "class", "happened");
        if (reading != null) {
            html.figure(
                    plate(report, animal, reading, StudyDocument.TEXT_WIDTH_MM),
                    "Animal " + animal.name() + ", whole recording.");
        }
        html.open("div", "class", "below");
        if (reading != null) {
            fate(reading);
            recovery(reading);
            time(reading);
        }
        capture();
        html.close("div");
        html.close("section");
    }

    static Figure plate(StudyReport report, AnimalSection animal, ReadingSection reading, double widthMm) {
        return PlateFigure.draw(reading.plate(), "plate-" + StudyDocument.anchor(report, animal), widthMm);
    }

    private Html.Raw source() {
        return new Html.Raw("<a class=\"src\" href=\"#" + StudyDocument.sourceAnchor(report, animal)
                + "\" aria-label=\"source of these numbers\">source</a>");
    }

    // ---- fate

    private void fate(ReadingSection reading) {
        FateSection fate = reading.fate();
        html.open("h4")
                .text("What became of it, and why we think so ")
                .raw(source().markup())
                .close("h4");
        html.p("The animal: " + FateStyle.words(fate.animal()) + ". The record: " + endWords(fate) + ". Decided by "
                + PlainWords.by(fate) + ".");
        FateProbabilities p = fate.probabilities();
        if (p != null) {
            html.p("How probable each ending is, from the record alone: alive to the end of its record "
                    + Num.percent(p.survived()) + ", died " + Num.percent(p.died())
                    + ", taken alive by a larger animal "
                    + Num.percent(p.eaten()) + ", alive when the package came off early " + Num.percent(p.shed())
                    + ".");
        }
        if (!fate.evidence().isEmpty()) {
            List<List<Object>> rows = new ArrayList<>();
            for (EvidenceLine line : fate.evidence()) {
                rows.add(List.of(line.sentence(), line.towards(), PlainWords.evidence(line)));
            }
            html.open("div", "class", "evidence");
            html.table(
                    "What was seen, most telling first. The last column says how much more, or less, likely that is if the"
                            + " ending named beside it is the true one than if the animal lived to the end of its record.",
                    List.of("observation", "ending", "under that ending"),
                    List.of(),
                    rows);
            html.close("div");
        }
        if (!fate.wouldChange().isEmpty()) {
            html.p("What would change this view: " + String.join(" ", fate.wouldChange()));
        }
        if (!fate.verdicts().isEmpty()) {
            List<List<Object>> rows = new ArrayList<>();
            for (VerdictLine line : fate.verdicts()) {
                rows.add(List.of(
                        line.role() + " (" + line.reader() + ")",
                        FateStyle.words(line.animal()),
                        endWords(line.end()).replace("the package ", ""),
                        line.reason(),
                        PlainWords.shortly(line.lockedUtc(), report.about().zone())
                                .replace(' ', '\u00a0')));
            }
            html.table(
                    "Verdicts of readers.", List.of("reader", "animal", "record", "reason", "locked"), List.of(), rows);
        }
    }

    private static String endWords(FateSection fate) {
        return endWords(fate.end());
    }

    static String endWords(org.aftercast.fate.RecordEnd end) {
        return switch (end) {
            case PLANNED_DETACHMENT -> "the package came off as planned";
            case SHED_EARLY -> "the package came off early";
            case LOGGER_STOPPED -> "the logger stopped while still on the animal";
            case FLOODED -> "water got into the logger";
            case PACKAGE_LOST -> "the package was lost";
        };
    }

    // ---- recovery and time

    private void recovery(ReadingSection reading) {
        if (reading.recovery().isEmpty()) {
            return;
        }
        html.open("h4").text("Recovery ").raw(source().markup()).close("h4");
        if (!reading.recoveryStatement().isEmpty()) {
            html.p(reading.recoveryStatement());
        }
        List<String> definitions = reading.recovery().stream()
                .map(RecoveryLine::definition)
                .distinct()
                .toList();
        boolean same = definitions.size() == 1;
        List<List<Object>> rows = new ArrayList<>();
        for (RecoveryLine line : reading.recovery()) {
            String remark = line.remark();
            String words = remark == null ? "" : remark;
            rows.add(List.of(
                    line.measure(),
                    PlainWords.recovery(line) + (line.interval().isEmpty() ? "" : "; " + line.interval()),
                    same ? words : line.definition() + (words.isEmpty() ? "" : ". " + words)));
        }
        html.table(
                "Recovery of animal " + animal.name() + "."
                        + (same ? " Recovered means: " + definitions.get(0) + "." : ""),
                List.of("measure", "recovered", same ? "in words" : "recovered means"),
                List.of(),
                rows);
    }

    private void time(ReadingSection reading) {
        Map<BoutKind, double[]> sums = new TreeMap<>();
        double from = reading.plate().releaseS();
        for (Bout bout : reading.plate().bouts()) {
            double length = bout.endS() - Math.max(bout.startS(), from);
            if (length > 0) {
                double[] sum = sums.computeIfAbsent(bout.kind(), k -> new double[2]);
                sum[0] += length;
                sum[1]++;
            }
        }
        if (sums.isEmpty()) {
            return;
        }
        double all = sums.values().stream().mapToDouble(s -> s[0]).sum();
        html.open("h4").text("How it spent its time ").raw(source().markup()).close("h4");
        List<List<Object>> rows = new ArrayList<>();
        sums.forEach((kind, sum) -> rows.add(List.of(
                PlainWords.bout(kind),
                PlainWords.duration(sum[0] / 3600),
                Num.percent(sum[0] / all),
                Num.fixed(sum[1], 0))));
        html.table(
                "After release, by kind of bout.",
                List.of("kind", "time", "share of the time", "bouts"),
                List.of(1, 2, 3),
                rows);
        Map<Event.Kind, Integer> events = new TreeMap<>();
        for (Event event : reading.plate().events()) {
            if (event.atS() >= from) {
                events.merge(event.kind(), 1, Integer::sum);
            }
        }
        if (!events.isEmpty()) {
            List<String> words = new ArrayList<>();
            events.forEach((kind, count) -> words.add(StudyFigures.counted(
                    count, kind.word().replace('-', ' '), many(kind.word().replace('-', ' ')))));
            html.p("Events after release: " + PlainWords.listed(words) + ".");
        }
    }

    private static String many(String word) {
        return word.endsWith("y") ? word : word + "s";
    }

    // ---- capture

    private void capture() {
        CaptureFacts c = animal.capture();
        List<List<Object>> rows = new ArrayList<>();
        add(rows, "species", c.species());
        add(rows, "trip", c.trip());
        add(rows, "vessel", c.vessel());
        add(rows, "gear and bait", c.gear());
        add(rows, "hook", c.hookType());
        add(rows, "hook sat in", c.hookLocation());
        add(rows, "hook afterwards", c.hookLeft());
        add(rows, "bleeding", c.bleeding());
        add(rows, "pressure injury", c.barotrauma());
        if (c.hookedUtc() != null) {
            add(rows, "hooked", PlainWords.shortly(c.hookedUtc(), report.about().zone()));
        }
        add(rows, "fight", c.fightMin(), 1, "min");
        add(rows, "time in air", c.airExposureS(), 0, "s");
        add(rows, "depth of capture", c.captureDepthM(), 1, "m");
        add(rows, "length", c.lengthM(), 2, "m");
        add(rows, "mass", c.massKg(), 2, "kg");
        add(rows, "sex", c.sex());
        if (c.reflexesTested() != null && c.reflexesMissing() != null) {
            add(rows, "reflexes missing", c.reflexesMissing() + " of " + c.reflexesTested());
        }
        add(rows, "injury (0 to 3)", c.injuryScore() == null ? null : Integer.toString(c.injuryScore()));
        add(rows, "water at the surface", c.waterTempC(), 1, "°C");
        if (c.latDeg() != null && c.lonDeg() != null) {
            add(rows, "position", Num.fixed(c.latDeg(), 3) + "°, " + Num.fixed(c.lonDeg(), 3) + "°");
        }
        if (c.releasedUtc() != null) {
            add(
                    rows,
                    "released",
                    PlainWords.shortly(c.releasedUtc(), report.about().zone()));
        }
        add(rows, "at release", c.releaseState());
        add(rows, "package", c.packageSerial());
        add(rows, "package mass in air", c.packageMassG(), 0, "g");
        Double mass = c.massKg();
        Double packageMass = c.packageMassG();
        if (mass != null && packageMass != null && mass > 0) {
            add(rows, "package / animal mass", Num.fixed(packageMass / mass / 10, 1) + " %");
        }
        if (c.plannedDetachmentUtc() != null) {
            add(
                    rows,
                    "planned off",
                    PlainWords.shortly(c.plannedDetachmentUtc(), report.about().zone()));
        }
        add(rows, "notes", c.notes());
        if (!rows.isEmpty()) {
            html.element("h4", "Catch and handling");
            int third = (rows.size() + 2) / 3;
            List<List<Object>> abreast = new ArrayList<>();
            for (int i = 0; i < third; i++) {
                List<Object> row = new ArrayList<>();
                for (int k = i; k < 3 * third; k += third) {
                    row.addAll(k < rows.size() ? rows.get(k) : List.of("", ""));
                }
                abreast.add(row);
            }
            html.open("div", "class", "facts")
                    .table(
                            "As entered for animal " + animal.name() + ".",
                            List.of("what", "value", "what", "value", "what", "value"),
                            List.of(),
                            abreast)
                    .close("div");
        }
    }

    private static void add(List<List<Object>> rows, String what, @Nullable String value) {
        if (value != null && !value.isBlank()) {
            rows.add(List.of(what, value));
        }
    }

    private static void add(List<List<Object>> rows, String what, @Nullable Double value, int decimals, String unit) {
        if (value != null) {
            rows.add(List.of(what, Num.fixed(value, decimals) + " " + unit));
        }
    }
}
