package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** Columns of animals as numbers: measures as they are, groups as one column for each group but the reference. */
final class Design {

    /** More groups than this make no term. */
    private static final int MOST_GROUPS = 8;

    private final List<String> names = new ArrayList<>();
    private final List<String> against = new ArrayList<>();
    private final List<double[]> columns = new ArrayList<>();
    private final List<Boolean> measures = new ArrayList<>();

    private Design() {}

    /**
     * Builds.
     *
     * @param animals each with a value in every column
     * @throws IllegalArgumentException with a sentence, if a column has one value only or too many groups
     */
    static Design of(List<AnimalOutcome> animals, List<String> wanted) {
        Design design = new Design();
        for (String column : wanted) {
            boolean measure = animals.stream().allMatch(a -> a.covariates().containsKey(column));
            if (measure) {
                design.add(
                        column,
                        "one less",
                        true,
                        animals.stream()
                                .mapToDouble(a -> a.covariates().getOrDefault(column, 0.0))
                                .toArray());
            } else {
                design.groups(column, animals);
            }
        }
        return design;
    }

    private void groups(String column, List<AnimalOutcome> animals) {
        Map<String, Long> counts = animals.stream()
                .collect(Collectors.groupingBy(
                        a -> a.groups().getOrDefault(column, ""), TreeMap::new, Collectors.counting()));
        if (counts.size() > MOST_GROUPS) {
            throw new IllegalArgumentException("The column " + column + " has " + counts.size()
                    + " groups; with more than " + MOST_GROUPS + " no effect can be told.");
        }
        // the largest group is the reference; of equal ones the first by name
        String reference = counts.entrySet().stream()
                .max(Map.Entry.<String, Long>comparingByValue()
                        .thenComparing(Map.Entry.comparingByKey(Comparator.reverseOrder())))
                .map(Map.Entry::getKey)
                .orElse("");
        for (String group : counts.keySet()) {
            if (!group.equals(reference)) {
                add(
                        column + " = " + group,
                        column + " = " + reference,
                        false,
                        animals.stream()
                                .mapToDouble(a -> group.equals(a.groups().get(column)) ? 1 : 0)
                                .toArray());
            }
        }
        if (counts.size() < 2) {
            throw new IllegalArgumentException("The column " + column + " has one value only.");
        }
    }

    private void add(String name, String compared, boolean measure, double[] values) {
        if (measure && Arrays.stream(values).distinct().count() < 2) {
            throw new IllegalArgumentException("The column " + name + " has one value only.");
        }
        names.add(name);
        against.add(compared);
        measures.add(measure);
        columns.add(values);
    }

    int terms() {
        return names.size();
    }

    String name(int term) {
        return names.get(term);
    }

    String against(int term) {
        return against.get(term);
    }

    boolean isMeasure(int term) {
        return measures.get(term);
    }

    double[] sorted(int term) {
        double[] copy = columns.get(term).clone();
        Arrays.sort(copy);
        return copy;
    }

    double[][] rows() {
        int n = columns.isEmpty() ? 0 : columns.get(0).length;
        double[][] rows = new double[n][columns.size()];
        for (int j = 0; j < columns.size(); j++) {
            for (int i = 0; i < n; i++) {
                rows[i][j] = columns.get(j)[i];
            }
        }
        return rows;
    }
}
