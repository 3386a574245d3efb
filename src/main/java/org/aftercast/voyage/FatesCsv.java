package org.aftercast.voyage;

import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.AnimalRecovery;
import org.aftercast.fate.FateProbabilities;
import org.jspecify.annotations.Nullable;

/**
 * Reads a table of fates, one row an animal. How each cell is read is written in docs/estimate.md.
 *
 * <p>All bad cells of a file are reported together, each with line and column; nothing is guessed.
 */
final class FatesCsv {

    private static final int MOST_PROBLEMS = 50;
    private static final double HOURS_PER_DAY = 24;
    private static final Set<String> NO_VALUE = Set.of(
            "nan", "na", "n/a", "null", "inf", "-inf", "+inf", "infinity", "-infinity", "#n/a", "#value!", "#div/0!");
    private static final String RECOVERY = "recovery, as given in the table";

    private static final Map<String, Column> COLUMNS = Map.ofEntries(
            Map.entry("animal", Column.ANIMAL),
            Map.entry("animalid", Column.ANIMAL),
            Map.entry("id", Column.ANIMAL),
            Map.entry("fate", Column.FATE),
            Map.entry("animalfate", Column.FATE),
            Map.entry("recordend", Column.END),
            Map.entry("endofrecord", Column.END),
            Map.entry("end", Column.END),
            Map.entry("atriskh", Column.HOURS),
            Map.entry("timeatriskh", Column.HOURS),
            Map.entry("hoursatrisk", Column.HOURS),
            Map.entry("timeatriskhours", Column.HOURS),
            Map.entry("atriskd", Column.DAYS),
            Map.entry("timeatriskd", Column.DAYS),
            Map.entry("daysatrisk", Column.DAYS),
            Map.entry("timeatriskdays", Column.DAYS),
            Map.entry("psurvived", Column.P_SURVIVED),
            Map.entry("pdied", Column.P_DIED),
            Map.entry("peaten", Column.P_EATEN),
            Map.entry("pshed", Column.P_SHED),
            Map.entry("recoveryh", Column.RECOVERY),
            Map.entry("recoveryseen", Column.RECOVERY_SEEN),
            Map.entry("recoverylowh", Column.RECOVERY_LOW),
            Map.entry("recoveryhighh", Column.RECOVERY_HIGH));

    private enum Column {
        ANIMAL,
        FATE,
        END,
        HOURS,
        DAYS,
        P_SURVIVED,
        P_DIED,
        P_EATEN,
        P_SHED,
        RECOVERY,
        RECOVERY_SEEN,
        RECOVERY_LOW,
        RECOVERY_HIGH
    }

    /**
     * What a table holds.
     *
     * @param animals in the order of the rows
     * @param recoveries of the animals with a recovery time
     */
    record Table(List<AnimalOutcome> animals, List<AnimalRecovery> recoveries) {}

    private final String file;
    private final List<String> problems = new ArrayList<>();
    private int moreProblems;
    private boolean decimalComma;
    private List<String> header = List.of();
    private final List<AnimalRecovery> recoveries = new ArrayList<>();

    private FatesCsv(String file) {
        this.file = file;
    }

    /**
     * Reads the file.
     *
     * @throws BadInputException with every bad cell, if there is one
     */
    static List<AnimalOutcome> read(Path path) throws BadInputException {
        byte[] bytes;
        try {
            bytes = Files.readAllBytes(path);
        } catch (IOException failure) {
            throw new BadInputException(path + ": cannot be read (" + failure + "); accepted: a readable file of comma,"
                    + " semicolon or tab separated text");
        }
        return read(path.toString(), bytes);
    }

    static List<AnimalOutcome> read(String file, byte[] bytes) throws BadInputException {
        return table(file, bytes).animals();
    }

    static Table table(String file, byte[] bytes) throws BadInputException {
        String text = CsvText.decode(file, bytes);
        FatesCsv reader = new FatesCsv(file);
        List<AnimalOutcome> animals = reader.parse(text);
        return new Table(animals, List.copyOf(reader.recoveries));
    }

    private List<AnimalOutcome> parse(String text) throws BadInputException {
        char separator = separator(text);
        decimalComma = separator != ',';
        List<CsvRecord> rows =
                CsvText.rows(file, text, separator, "rows of separated fields, quotes doubled inside quoted fields");
        if (rows.isEmpty()) {
            throw new BadInputException(file + ": is empty; accepted: a header line and one row an animal");
        }
        header = rows.get(0).getFields().stream().map(String::strip).toList();
        Map<Column, Integer> where = columns(rows.get(0).getStartingLineNumber());
        Map<Integer, String> extra = extraColumns(where);
        List<CsvRecord> body = rows.subList(1, rows.size());
        Map<Integer, String> numeric =
                numericColumns(extra, body.stream().filter(this::isWhole).toList());
        List<AnimalOutcome> animals = new ArrayList<>();
        Map<String, Long> seen = new HashMap<>();
        for (CsvRecord row : body) {
            if (!isWhole(row)) {
                addProblem(file + ", line " + row.getStartingLineNumber() + ": " + row.getFieldCount()
                        + " fields; accepted: " + header.size() + ", as in the header");
                continue;
            }
            AnimalOutcome animal = row(row, where, extra, numeric, seen);
            if (animal != null) {
                animals.add(animal);
            }
        }
        if (problems.isEmpty() && animals.isEmpty()) {
            problems.add(file + ": has a header but no animal; accepted: one row an animal below the header");
        }
        throwIfBad();
        return animals;
    }

    private static char separator(String text) {
        String first = text.lines().filter(line -> !line.isBlank()).findFirst().orElse("");
        char best = ',';
        long most = first.chars().filter(c -> c == ',').count();
        for (char candidate : new char[] {';', '\t'}) {
            long count = first.chars().filter(c -> c == candidate).count();
            if (count > most) {
                most = count;
                best = candidate;
            }
        }
        return best;
    }

    private Map<Column, Integer> columns(long line) throws BadInputException {
        Map<Column, Integer> where = new HashMap<>();
        for (int i = 0; i < header.size(); i++) {
            Column column = COLUMNS.get(key(header.get(i)));
            if (column == null) {
                if (header.get(i).isEmpty()) {
                    problem(line, i, "the header is empty", "a name for every column");
                } else if (header.indexOf(header.get(i)) < i) {
                    problem(line, i, "a second column of this name", "every column once");
                }
                continue;
            }
            if (where.putIfAbsent(column, i) != null) {
                problem(line, i, "a second column with the same meaning", "every column once");
            }
        }
        require(where, Column.ANIMAL, line, "animal");
        require(where, Column.FATE, line, "fate");
        if (!where.containsKey(Column.DAYS)) {
            require(where, Column.HOURS, line, "atRiskH (hours) or atRiskD (days)");
        } else if (where.containsKey(Column.HOURS)) {
            problem(line, where.getOrDefault(Column.DAYS, 0), "time at risk is given twice", "hours or days, not both");
        }
        throwIfBad();
        return where;
    }

    private void require(Map<Column, Integer> where, Column column, long line, String name) {
        if (!where.containsKey(column)) {
            problems.add(file + ", line " + line + ": there is no column " + name
                    + "; accepted: a header with the columns animal, fate and atRiskH (see docs/estimate.md); found "
                    + String.join(", ", header));
        }
    }

    private Map<Integer, String> extraColumns(Map<Column, Integer> where) {
        Map<Integer, String> extra = new LinkedHashMap<>();
        for (int i = 0; i < header.size(); i++) {
            if (!where.containsValue(i)) {
                extra.put(i, header.get(i));
            }
        }
        return extra;
    }

    private boolean isWhole(CsvRecord row) {
        return row.getFieldCount() == header.size();
    }

    private Map<Integer, String> numericColumns(Map<Integer, String> extra, List<CsvRecord> rows) {
        Map<Integer, String> numeric = new LinkedHashMap<>();
        extra.forEach((i, name) -> {
            boolean any = false;
            boolean all = true;
            for (CsvRecord row : rows) {
                String cell = row.getField(i).strip();
                if (!cell.isEmpty()) {
                    any = true;
                    all &= number(cell).isPresent();
                }
            }
            if (any && all) {
                numeric.put(i, name);
            }
        });
        return numeric;
    }

    private @Nullable AnimalOutcome row(
            CsvRecord row,
            Map<Column, Integer> where,
            Map<Integer, String> extra,
            Map<Integer, String> numeric,
            Map<String, Long> seen) {
        int before = problems.size() + moreProblems;
        long line = row.getStartingLineNumber();
        String name = cell(row, where, Column.ANIMAL);
        if (name.isEmpty()) {
            problem(line, where, Column.ANIMAL, "the animal has no name", "a name that occurs once");
        } else {
            Long first = seen.putIfAbsent(name, line);
            if (first != null) {
                problem(
                        line,
                        where,
                        Column.ANIMAL,
                        "\"" + name + "\" stands on line " + first + " already",
                        "every animal once");
            }
        }
        FateWords.Reading fate = null;
        try {
            fate = FateWords.read(cell(row, where, Column.FATE), cell(row, where, Column.END));
        } catch (FateWords.BadWord bad) {
            problem(line, where, bad.inEnd() ? Column.END : Column.FATE, bad.problem(), bad.accepted());
        }
        double hours = hours(row, where, fate != null && fate.timeMayBeBlank());
        FateProbabilities probabilities = probabilities(row, where);
        AnimalRecovery recovery = recovery(row, where, name);
        Map<String, String> groups = new HashMap<>();
        Map<String, Double> covariates = new HashMap<>();
        extra.forEach((i, column) -> {
            String cell = row.getField(i).strip();
            if (NO_VALUE.contains(cell.toLowerCase(Locale.ROOT))) {
                // a text column would take it for a group of its own
                problem(
                        row.getStartingLineNumber(),
                        i,
                        "\"" + cell + "\" is neither a value nor a group",
                        "a number or a text; blank for not known");
            } else if (!cell.isEmpty()) {
                groups.put(column, cell);
                if (numeric.containsKey(i)) {
                    number(cell).ifPresent(value -> covariates.put(column, value));
                }
            }
        });
        if (problems.size() + moreProblems > before || fate == null) {
            return null;
        }
        if (recovery != null) {
            recoveries.add(recovery);
        }
        return new AnimalOutcome(name, groups, covariates, fate.animal(), fate.end(), hours, probabilities);
    }

    private double hours(CsvRecord row, Map<Column, Integer> where, boolean mayBeBlank) {
        boolean inDays = where.containsKey(Column.DAYS);
        Column column = inDays ? Column.DAYS : Column.HOURS;
        String cell = cell(row, where, column);
        if (cell.isEmpty() && mayBeBlank) {
            return 0;
        }
        OptionalDouble value = number(cell);
        if (value.isEmpty() || !(value.getAsDouble() >= 0)) {
            problem(
                    row.getStartingLineNumber(),
                    where,
                    column,
                    cell.isEmpty() ? "no time at risk" : "\"" + cell + "\" is not a time at risk",
                    "a number of " + (inDays ? "days" : "hours") + " from release to death or to the last certain sign"
                            + " of life, 0 or more"
                            + " (blank only for a package that was never retrieved)");
            return 0;
        }
        return inDays ? value.getAsDouble() * HOURS_PER_DAY : value.getAsDouble();
    }

    /** Hours to recovery with its limits, or null where the cell is blank. */
    private @Nullable AnimalRecovery recovery(CsvRecord row, Map<Column, Integer> where, String animal) {
        int before = problems.size() + moreProblems;
        long line = row.getStartingLineNumber();
        Double hours = hoursOrBlank(row, where, Column.RECOVERY);
        Double low = hoursOrBlank(row, where, Column.RECOVERY_LOW);
        Double high = hoursOrBlank(row, where, Column.RECOVERY_HIGH);
        String seen = cell(row, where, Column.RECOVERY_SEEN).toLowerCase(Locale.ROOT);
        if (!List.of("", "yes", "no").contains(seen)) {
            problem(line, where, Column.RECOVERY_SEEN, "\"" + seen + "\" is neither", "yes (or blank), or no");
        }
        if (hours == null
                && problems.size() + moreProblems == before
                && (low != null || high != null || !seen.isEmpty())) {
            problem(line, where, Column.RECOVERY, "no recovery time beside its limits", "hours, or all of them blank");
        }
        if (hours != null && seen.equals("no") && (low != null || high != null)) {
            problem(
                    line,
                    where,
                    Column.RECOVERY_SEEN,
                    "limits of a recovery that was not seen",
                    "recoveryLowH and recoveryHighH blank where recoverySeen is no");
        }
        if (hours != null && ((low != null && low > hours) || (high != null && high < hours))) {
            problem(line, where, Column.RECOVERY, "the recovery time is outside its limits", "low ≤ hours ≤ high");
        }
        if (hours == null || animal.isEmpty() || problems.size() + moreProblems > before) {
            return null;
        }
        AnimalRecovery.Seen how = seen.equals("no") ? AnimalRecovery.Seen.LATER_THAN : AnimalRecovery.Seen.RECOVERED;
        return new AnimalRecovery(animal, RECOVERY, hours, how, low, high);
    }

    private @Nullable Double hoursOrBlank(CsvRecord row, Map<Column, Integer> where, Column column) {
        String cell = cell(row, where, column);
        if (cell.isEmpty()) {
            return null;
        }
        OptionalDouble value = number(cell);
        if (value.isEmpty() || !(value.getAsDouble() >= 0)) {
            problem(
                    row.getStartingLineNumber(),
                    where,
                    column,
                    "\"" + cell + "\" is not a number of hours",
                    "hours since the release, 0 or more, or blank");
            return null;
        }
        return value.getAsDouble();
    }

    private @Nullable FateProbabilities probabilities(CsvRecord row, Map<Column, Integer> where) {
        Column[] columns = {Column.P_SURVIVED, Column.P_DIED, Column.P_EATEN, Column.P_SHED};
        double[] p = new double[columns.length];
        double sum = 0;
        boolean any = false;
        int first = -1;
        for (int k = 0; k < columns.length; k++) {
            String cell = cell(row, where, columns[k]);
            if (cell.isEmpty()) {
                continue;
            }
            any = true;
            first = first < 0 ? k : first;
            OptionalDouble value = number(cell);
            if (value.isEmpty() || !(value.getAsDouble() >= 0 && value.getAsDouble() <= 1)) {
                problem(
                        row.getStartingLineNumber(),
                        where,
                        columns[k],
                        "\"" + cell + "\" is not a probability",
                        "a number from 0 to 1, or blank");
                return null;
            }
            p[k] = value.getAsDouble();
            sum += p[k];
        }
        if (!any) {
            return null;
        }
        if (Math.abs(sum - 1) > 0.01) {
            problem(
                    row.getStartingLineNumber(),
                    where,
                    columns[first],
                    "the fate probabilities sum to " + String.format(Locale.ROOT, "%.3f", sum),
                    "pSurvived, pDied, pEaten and pShed that sum to 1 (0.99 to 1.01 is taken as rounding)");
            return null;
        }
        double died = p[1] / sum;
        double eaten = p[2] / sum;
        double shed = p[3] / sum;
        return new FateProbabilities(Math.max(0, Math.min(1, 1 - died - eaten - shed)), died, eaten, shed);
    }

    private OptionalDouble number(String cell) {
        String text = decimalComma && cell.indexOf('.') < 0 ? cell.replace(',', '.') : cell;
        if (!text.matches("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?")) {
            return OptionalDouble.empty();
        }
        double value = Double.parseDouble(text);
        return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    }

    private static String cell(CsvRecord row, Map<Column, Integer> where, Column column) {
        Integer i = where.get(column);
        return i == null ? "" : row.getField(i).strip();
    }

    private static String key(String name) {
        return name.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]", "");
    }

    private void problem(long line, Map<Column, Integer> where, Column column, String what, String accepted) {
        problem(line, where.getOrDefault(column, 0), what, accepted);
    }

    private void problem(long line, int column, String what, String accepted) {
        String name = column < header.size() ? " (" + header.get(column) + ")" : "";
        addProblem(
                file + ", line " + line + ", column " + (column + 1) + name + ": " + what + "; accepted: " + accepted);
    }

    private void addProblem(String problem) {
        if (problems.size() < MOST_PROBLEMS) {
            problems.add(problem);
        } else {
            moreProblems++;
        }
    }

    private void throwIfBad() throws BadInputException {
        if (problems.isEmpty()) {
            return;
        }
        List<String> all = new ArrayList<>(problems);
        if (moreProblems > 0) {
            all.add(file + ": and " + moreProblems + " more problems of these kinds");
        }
        throw new BadInputException(all);
    }
}
