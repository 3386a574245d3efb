package org.aftercast.study;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.study.Verdict.Role;
import org.jspecify.annotations.Nullable;

/** How the verdicts on one animal must hang together: two different readers, the second blind; settled after both. */
public final class VerdictRules {

    /**
     * The verdicts on one animal.
     *
     * @param animal its name
     * @param first the first reader's, or null
     * @param second the second reader's, or null
     * @param settled all settled ones, oldest first
     */
    public record OfAnimal(
            String animal,
            @Nullable Verdict first,
            @Nullable Verdict second,
            List<Verdict> settled) {

        /** Whether first and second are there and differ in the animal's fate or the record's end. */
        public boolean disagree() {
            return first != null
                    && second != null
                    && (first.animalFate() != second.animalFate() || first.recordEnd() != second.recordEnd());
        }

        /**
         * The verdict that counts: the last settled one; else the first where nobody disagreed; else null, because two
         * readers disagree and have not settled.
         */
        public @Nullable Verdict standing() {
            if (!settled.isEmpty()) {
                return settled.get(settled.size() - 1);
            }
            return disagree() ? null : first;
        }

        /** Whether this reader has locked a verdict of their own on the animal. */
        public boolean hasLocked(String reader) {
            return (first != null && first.reader().equalsIgnoreCase(reader))
                    || (second != null && second.reader().equalsIgnoreCase(reader));
        }
    }

    private VerdictRules() {}

    /** Verdicts by animal (lower-case name). */
    public static Map<String, OfAnimal> byAnimal(List<Verdict> verdicts) {
        Map<String, List<Verdict>> grouped = new LinkedHashMap<>();
        for (Verdict verdict : verdicts) {
            grouped.computeIfAbsent(verdict.animal().toLowerCase(Locale.ROOT), k -> new ArrayList<>())
                    .add(verdict);
        }
        Map<String, OfAnimal> all = new LinkedHashMap<>();
        grouped.forEach((key, of) -> all.put(key, ofAnimal(of.get(0).animal(), of)));
        return all;
    }

    /** The verdicts on one animal, out of any list. */
    public static OfAnimal ofAnimal(String animal, List<Verdict> verdicts) {
        Verdict first = null;
        Verdict second = null;
        List<Verdict> settled = new ArrayList<>();
        for (Verdict verdict : verdicts) {
            if (verdict.animal().equalsIgnoreCase(animal)) {
                switch (verdict.role()) {
                    case FIRST -> first = verdict;
                    case SECOND -> second = verdict;
                    case SETTLED -> settled.add(verdict);
                }
            }
        }
        settled.sort(java.util.Comparator.comparingInt(Verdict::number));
        return new OfAnimal(animal, first, second, settled);
    }

    /** What is wrong among the verdicts of a study; empty when nothing is. */
    static List<String> problems(List<Verdict> verdicts) {
        List<String> problems = new ArrayList<>();
        byAnimal(verdicts).values().forEach(of -> {
            String where = "verdicts on " + of.animal() + ": ";
            Verdict first = of.first();
            Verdict second = of.second();
            if (first == null) {
                problems.add(where + "there is no first verdict");
            } else if (second != null && second.reader().equalsIgnoreCase(first.reader())) {
                problems.add(where + "first and second are by the same reader " + first.reader());
            }
            if (!of.settled().isEmpty() && second == null) {
                problems.add(where + "settled without a second verdict");
            }
            verdicts.stream()
                    .filter(v -> v.animal().equalsIgnoreCase(of.animal()))
                    .filter(v -> v.role() != Role.SETTLED && v.number() != 1)
                    .forEach(v -> problems.add(where + "more than one " + Words.of(v.role()) + " verdict"));
        });
        return problems;
    }
}
