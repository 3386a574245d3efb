package org.aftercast.report;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.jspecify.annotations.Nullable;

/**
 * The capture events in Darwin Core terms (key {@code wieczorek2012}): one event per animal, its occurrence, and the
 * measurements taken, with the description ({@code meta.xml}) that makes the folder an archive.
 */
final class DarwinCore {

    private static final String TERMS = "http://rs.tdwg.org/dwc/terms/";

    private DarwinCore() {}

    static List<DataTable> tables(StudyReport report) {
        List<DataTable> out = new ArrayList<>();
        out.add(events(report));
        out.add(occurrences(report));
        DataTable measurements = measurements(report);
        if (measurements.rowCount() > 0) {
            out.add(measurements);
        }
        return out;
    }

    private static String eventId(AnimalSection animal) {
        return "capture:" + animal.name();
    }

    private static @Nullable Instant eventDate(CaptureFacts c) {
        return c.hookedUtc() != null ? c.hookedUtc() : c.releasedUtc();
    }

    private static DataTable events(StudyReport report) {
        StudyReport.About about = report.about();
        boolean invented = about.origin() == StudyReport.Origin.INVENTED;
        DataTable table = new DataTable("darwin-core/event", "Capture events (Darwin Core)")
                .text("eventID", "Identifier of the event within this data set.")
                .text("eventType", "Kind of event.")
                .time("eventDate", "When the animal was hooked, or released where that is not known.")
                .text("samplingProtocol", "How the animal was caught.")
                .text("locality", "Where, in words.")
                .number("decimalLatitude", "°", "Latitude, north positive.")
                .number("decimalLongitude", "°", "Longitude, east positive.")
                .text("geodeticDatum", "Datum of the position.")
                .number("minimumDepthInMeters", "m", "Depth of capture.")
                .number("maximumDepthInMeters", "m", "Depth of capture.")
                .text("eventRemarks", "Remarks.")
                .key("eventID");
        for (AnimalSection animal : report.animals()) {
            CaptureFacts c = animal.capture();
            boolean placed = c.latDeg() != null && c.lonDeg() != null;
            table.row(
                    eventId(animal),
                    "capture by angling and release with a float package",
                    eventDate(c),
                    c.gear() == null ? "angling" : "angling: " + c.gear(),
                    about.site(),
                    c.latDeg(),
                    c.lonDeg(),
                    placed ? "EPSG:4326" : null,
                    c.captureDepthM(),
                    c.captureDepthM(),
                    invented ? PlainWords.INVENTED : null);
        }
        return table;
    }

    private static DataTable occurrences(StudyReport report) {
        StudyReport.About about = report.about();
        boolean invented = about.origin() == StudyReport.Origin.INVENTED;
        DataTable table = new DataTable("darwin-core/occurrence", "The animals (Darwin Core)")
                .text("eventID", "The event it belongs to.")
                .text("occurrenceID", "Identifier of the occurrence within this data set.")
                .text("basisOfRecord", "Kind of record.")
                .text("scientificName", "Scientific name.")
                .text("vernacularName", "Common name.")
                .text("organismID", "Name of the animal in the study.")
                .integer("individualCount", "Always 1.")
                .text("sex", "Sex.")
                .text("occurrenceStatus", "Always present.")
                .text("occurrenceRemarks", "What happened to the animal, one sentence.")
                .key("occurrenceID");
        for (AnimalSection animal : report.animals()) {
            CaptureFacts c = animal.capture();
            String common = c.species() != null ? c.species() : about.species();
            String remark = PlainWords.whatHappened(animal);
            table.row(
                    eventId(animal),
                    "animal:" + animal.name(),
                    "HumanObservation",
                    c.species() == null ? about.scientificName() : null,
                    common,
                    animal.name(),
                    1,
                    c.sex() == null || c.sex().equals("unknown") ? null : c.sex(),
                    "present",
                    invented ? PlainWords.INVENTED + " " + remark : remark);
        }
        return table;
    }

    private static DataTable measurements(StudyReport report) {
        DataTable table = new DataTable("darwin-core/measurementorfact", "Measurements at capture (Darwin Core)")
                .text("eventID", "The event it belongs to.")
                .text("measurementID", "Identifier of the measurement within this data set.")
                .text("measurementType", "What was measured.")
                .text("measurementValue", "Its value.")
                .text("measurementUnit", "Its unit.")
                .key("measurementID");
        for (AnimalSection animal : report.animals()) {
            CaptureFacts c = animal.capture();
            measured(table, animal, "length", c.lengthM(), "m");
            measured(table, animal, "mass", c.massKg(), "kg");
            measured(table, animal, "length of the fight", c.fightMin(), "min");
            measured(table, animal, "time in air", c.airExposureS(), "s");
            measured(table, animal, "water temperature at the surface", c.waterTempC(), "°C");
            noted(table, animal, "hook location", c.hookLocation());
            noted(table, animal, "kind of hook", c.hookType());
            noted(table, animal, "bleeding", c.bleeding());
            noted(table, animal, "state at release", c.releaseState());
        }
        return table;
    }

    private static void measured(
            DataTable table, AnimalSection animal, String type, @Nullable Double value, String unit) {
        if (value != null) {
            table.row(
                    eventId(animal),
                    "animal:" + animal.name() + ":" + type.replace(' ', '-'),
                    type,
                    Num.data(value),
                    unit);
        }
    }

    private static void noted(DataTable table, AnimalSection animal, String type, @Nullable String value) {
        if (value != null) {
            table.row(eventId(animal), "animal:" + animal.name() + ":" + type.replace(' ', '-'), type, value, null);
        }
    }

    /** The description of the archive: which file holds what, and which column is which term. */
    static String meta(List<DataTable> tables) {
        StringBuilder out = new StringBuilder("""
                <?xml version="1.0" encoding="UTF-8"?>
                <archive xmlns="http://rs.tdwg.org/dwc/text/">
                """);
        for (int t = 0; t < tables.size(); t++) {
            DataTable table = tables.get(t);
            String element = t == 0 ? "core" : "extension";
            String rowType = switch (table.name) {
                case "darwin-core/event" -> TERMS + "Event";
                case "darwin-core/occurrence" -> TERMS + "Occurrence";
                default -> TERMS + "MeasurementOrFact";
            };
            out.append("  <")
                    .append(element)
                    .append(" encoding=\"UTF-8\" fieldsTerminatedBy=\",\" linesTerminatedBy=\"\\n\""
                            + " fieldsEnclosedBy='\"' ignoreHeaderLines=\"1\" rowType=\"")
                    .append(rowType)
                    .append("\">\n    <files><location>")
                    .append(table.name.substring("darwin-core/".length()))
                    .append(".csv</location></files>\n    <")
                    .append(t == 0 ? "id" : "coreid")
                    .append(" index=\"0\"/>\n");
            for (int i = t == 0 ? 0 : 1; i < table.fields.size(); i++) {
                out.append("    <field index=\"")
                        .append(i)
                        .append("\" term=\"")
                        .append(TERMS)
                        .append(table.fields.get(i).name())
                        .append("\"/>\n");
            }
            out.append("  </").append(element).append(">\n");
        }
        return out.append("</archive>\n").toString();
    }
}
