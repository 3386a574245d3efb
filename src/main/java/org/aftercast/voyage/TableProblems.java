package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What is wrong with a table, each with its line and column; told together, in the order of lines and columns. */
final class TableProblems {

    private record Problem(long line, int place, String text) {}

    private static final int MOST_SHOWN = 50;

    private final String file;
    private final Map<String, Integer> placeOfColumn = new LinkedHashMap<>();
    private final List<Problem> problems = new ArrayList<>();

    TableProblems(String file) {
        this.file = file;
    }

    /** Says where a column stands, from 1; false when it stood somewhere before. */
    boolean columnAt(String column, int place) {
        return placeOfColumn.putIfAbsent(column, place) == null;
    }

    boolean hasColumn(String column) {
        return placeOfColumn.containsKey(column);
    }

    void inFile(String problem) {
        problems.add(new Problem(0, 0, file + ": " + problem));
    }

    void inLine(long line, String problem) {
        problems.add(new Problem(line, 0, file + ", line " + line + ": " + problem));
    }

    void inCell(long line, int place, String problem) {
        problems.add(new Problem(line, place, file + ", line " + line + ", column " + place + ": " + problem));
    }

    /** In the cell of a column; in the line when the file does not have that column. */
    void inCell(long line, String column, String problem) {
        @Nullable Integer place = placeOfColumn.get(column);
        if (place == null) {
            inLine(line, problem);
        } else {
            inCell(line, place, problem);
        }
    }

    boolean none() {
        return problems.isEmpty();
    }

    /** Throws if there are problems; very many are cut, with their number. */
    void refuse() throws BadInputException {
        if (problems.isEmpty()) {
            return;
        }
        List<String> lines = new ArrayList<>(problems.stream()
                .sorted(Comparator.comparingLong(Problem::line).thenComparingInt(Problem::place))
                .limit(MOST_SHOWN)
                .map(Problem::text)
                .toList());
        if (problems.size() > MOST_SHOWN) {
            lines.add("… and " + (problems.size() - MOST_SHOWN) + " more problems");
        }
        throw new BadInputException(lines);
    }
}
