package org.aftercast.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.report.AnimalSection.Chain;
import org.aftercast.report.AnimalSection.RawLink;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;

/** Settings, versions, and the way back from each number to the bytes behind it. */
final class SourcesPart {

    private SourcesPart() {}

    static void settings(StudyReport report, Html html) {
        StudyReport.MadeWith made = report.madeWith();
        List<List<Object>> rows = new ArrayList<>();
        rows.add(List.of("Aftercast", made.softwareVersion()));
        made.components().forEach(c -> rows.add(List.of(c.name(), c.value())));
        rows.add(List.of("seed of everything random", Long.toString(made.seed())));
        rows.add(List.of("entries in the study's history", Long.toString(made.changeCount())));
        if (made.lastChangeUtc() != null) {
            rows.add(List.of("last of them, UTC", made.lastChangeUtc().toString()));
        }
        html.table("What this report was made with.", List.of("what", "value"), List.of(), rows);
        html.p("All settings. The same study with the same settings gives this report again, byte for byte, on the same"
                + " machine and Java version.");
        html.element("pre", made.settingsJson());
    }

    static void sources(StudyReport report, Html html) {
        html.p("Each number about an animal stands in the result file of its reading, at the place given as a JSON"
                + " Pointer (RFC 6901). The reading was computed from the recording, and the recording holds the samples"
                + " of the download. Paths are within the study folder. A checksum is a SHA-256 hash: it changes if one"
                + " byte of the file changes.");
        pointers(report, html);
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading == null) {
                continue;
            }
            html.open("section", "id", StudyDocument.sourceAnchor(report, animal), "class", "source");
            html.open("h3")
                    .text("Animal ")
                    .raw(Html.link("#" + StudyDocument.anchor(report, animal), animal.name())
                            .markup())
                    .close("h3");
            Chain chain = reading.chain();
            List<List<Object>> rows = new ArrayList<>();
            for (RawLink raw : chain.raw()) {
                rows.add(List.of(
                        "download (" + raw.originalName() + ", " + raw.sizeBytes() + " bytes)",
                        Html.code(raw.file()),
                        Html.code(raw.sha256())));
            }
            rows.add(List.of("recording", Html.code(chain.recordingFile()), Html.code(chain.recordingSha256())));
            rows.add(List.of(
                    "reading (settings "
                            + chain.settingsSha256()
                                    .substring(
                                            0,
                                            Math.min(12, chain.settingsSha256().length())) + "…, Aftercast "
                            + chain.softwareVersion() + ")",
                    Html.code(chain.readingFolder()),
                    Html.code(chain.readingKey())));
            chain.readingFiles()
                    .forEach((name, sha) ->
                            rows.add(List.of("result", Html.code(chain.readingFolder() + "/" + name), Html.code(sha))));
            html.table(
                    "From the bytes to the numbers, animal " + animal.name() + ".",
                    List.of("what", "where", "checksum or key"),
                    List.of(),
                    rows);
            html.close("section");
        }
    }

    /** Where each kind of number stands in a result file; the same for all animals, else with the animal's name. */
    private static void pointers(StudyReport report, Html html) {
        Map<List<String>, List<String>> places = new LinkedHashMap<>();
        int readings = 0;
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading == null) {
                continue;
            }
            readings++;
            String file = reading.chain().resultFile();
            place(
                    places,
                    animal,
                    "what became of it, probabilities, evidence",
                    file + "#" + reading.fate().pointer());
            for (RecoveryLine line : reading.recovery()) {
                place(places, animal, "recovery: " + line.measure(), file + "#" + line.pointer());
            }
            place(places, animal, "bouts", file + "#/bouts");
            place(places, animal, "events", file + "#/events");
            place(places, animal, "release, detachment, time at risk", file + "#/times");
        }
        List<List<Object>> rows = new ArrayList<>();
        for (Map.Entry<List<String>, List<String>> place : places.entrySet()) {
            List<String> animals = place.getValue();
            rows.add(List.of(
                    place.getKey().get(0),
                    Html.code(place.getKey().get(1)),
                    animals.size() == readings ? "all with a reading" : PlainWords.listed(animals)));
        }
        if (!rows.isEmpty()) {
            html.table(
                    "Where the numbers stand in the result file of a reading.",
                    List.of("number", "file and place", "animals"),
                    List.of(),
                    rows);
        }
    }

    private static void place(Map<List<String>, List<String>> places, AnimalSection animal, String what, String where) {
        places.computeIfAbsent(List.of(what, where), k -> new ArrayList<>()).add(animal.name());
    }
}
