package org.aftercast.voyage;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.StringJoiner;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.aftercast.study.Landing;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** What was landed on each trip, as a table: read, entered into a study, written. */
final class LandingTable {

    static final List<String> COLUMNS =
            List.of("trip", "landed", "deadAtVessel", "tagged", "notTagged", "landingNotes");

    private static final Pattern REASON = Pattern.compile("(.*\\S)\\s*[:=]\\s*(\\d{1,7})");
    private static final String REASONS = "reasons with their numbers, such as: too small: 3; let go at once: 2";

    private LandingTable() {}

    /** Every row or none. */
    static EnterCaptures.Result enter(
            StudyStore store,
            List<CaptureTable.Row> rows,
            TableProblems problems,
            EnterCaptures.Existing existing,
            String who)
            throws BadInputException, IOException {
        Map<String, Landing> known = new HashMap<>();
        store.all(Landing.class).forEach(l -> known.put(fold(l.trip()), l));
        Map<String, Long> lineOf = new HashMap<>();
        List<Landing> landings = new ArrayList<>();
        for (CaptureTable.Row row : rows) {
            String trip = row.cells().getOrDefault("trip", "");
            Landing old = known.get(fold(trip));
            Long before = trip.isEmpty() ? null : lineOf.putIfAbsent(fold(trip), row.line());
            if (before != null) {
                problems.inCell(row.line(), "trip", "trip \"" + trip + "\" stands in line " + before + " already");
            } else if (old != null && existing == EnterCaptures.Existing.REFUSE) {
                problems.inCell(
                        row.line(),
                        "trip",
                        "the landings of trip \"" + trip + "\" are in the study already; to change them use --replace");
            }
            Landing landing = landing(row, old, problems);
            if (landing != null) {
                landings.add(landing);
            }
        }
        problems.refuse();
        int[] counts = new int[3];
        store.change(who, change -> {
            for (Landing landing : landings) {
                Landing old = known.get(fold(landing.trip()));
                counts[old == null ? 0 : landing.equals(old) ? 2 : 1]++;
                change.put(landing);
            }
            return 0;
        });
        return new EnterCaptures.Result(
                counts[0], counts[1], counts[2], StudyLandings.disagreements(store), store.notices());
    }

    private static @Nullable Landing landing(CaptureTable.Row row, @Nullable Landing old, TableProblems problems) {
        Map<String, String> cells = new HashMap<>(old == null ? Map.of() : format(old));
        cells.putAll(row.cells());
        Integer landed = count(row.line(), "landed", cells, problems);
        Integer dead = count(row.line(), "deadAtVessel", cells, problems);
        Integer tagged = count(row.line(), "tagged", cells, problems);
        Map<String, Integer> reasons = reasons(row.line(), cells.getOrDefault("notTagged", ""), problems);
        String notes = cells.getOrDefault("landingNotes", "");
        if (landed == null || dead == null || tagged == null || reasons == null) {
            return null;
        }
        try {
            return new Landing(
                    old == null ? cells.getOrDefault("trip", "") : old.trip(),
                    landed,
                    dead,
                    tagged,
                    reasons,
                    notes.isEmpty() ? null : notes);
        } catch (RuleException broken) {
            broken.problems().forEach(p -> problems.inCell(row.line(), p.field(), p.toString()));
            return null;
        }
    }

    private static @Nullable Integer count(
            long line, String column, Map<String, String> cells, TableProblems problems) {
        String cell = cells.getOrDefault(column, "");
        if (cell.matches("\\d{1,7}")) {
            return Integer.valueOf(cell);
        }
        problems.inCell(
                line,
                column,
                column + ": " + (cell.isEmpty() ? "is missing" : "\"" + cell + "\" is not a number of animals")
                        + "; accepted: a whole number, 0 or more");
        return null;
    }

    private static @Nullable Map<String, Integer> reasons(long line, String cell, TableProblems problems) {
        Map<String, Integer> reasons = new TreeMap<>();
        for (String part : cell.split(";", -1)) {
            if (part.isBlank()) {
                continue;
            }
            Matcher reason = REASON.matcher(part.strip());
            if (!reason.matches()) {
                problems.inCell(
                        line, "notTagged", "notTagged: \"" + part.strip() + "\" has no number; accepted: " + REASONS);
                return null;
            }
            reasons.merge(reason.group(1), Integer.parseInt(reason.group(2)), Integer::sum);
        }
        return reasons;
    }

    /** The cells of a row. */
    static Map<String, String> format(Landing landing) {
        Map<String, String> cells = new LinkedHashMap<>();
        cells.put("trip", landing.trip());
        cells.put("landed", Integer.toString(landing.landed()));
        cells.put("deadAtVessel", Integer.toString(landing.deadAtVessel()));
        cells.put("tagged", Integer.toString(landing.tagged()));
        StringJoiner reasons = new StringJoiner("; ");
        landing.notTagged().forEach((reason, animals) -> reasons.add(reason + ": " + animals));
        cells.put("notTagged", reasons.toString());
        String notes = landing.landingNotes();
        cells.put("landingNotes", notes == null ? "" : notes);
        return cells;
    }

    private static String fold(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
