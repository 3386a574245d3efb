package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;

/** Invented animals for tests. */
final class Animals {

    private final List<AnimalOutcome> list = new ArrayList<>();

    static Animals make() {
        return new Animals();
    }

    Animals alive(int n, double hours) {
        return add(n, AnimalFate.ALIVE_AT_END, RecordEnd.PLANNED_DETACHMENT, hours, Map.of(), Map.of());
    }

    Animals died(int n, double hours) {
        return add(n, AnimalFate.DIED, RecordEnd.PLANNED_DETACHMENT, hours, Map.of(), Map.of());
    }

    Animals eaten(int n, double hours) {
        return add(n, AnimalFate.EATEN, RecordEnd.PLANNED_DETACHMENT, hours, Map.of(), Map.of());
    }

    Animals shed(int n, double hours) {
        return add(n, AnimalFate.ALIVE_AT_END, RecordEnd.SHED_EARLY, hours, Map.of(), Map.of());
    }

    Animals lost(int n) {
        return add(n, AnimalFate.UNDECIDED, RecordEnd.PACKAGE_LOST, 0, Map.of(), Map.of());
    }

    Animals add(
            int n,
            AnimalFate fate,
            RecordEnd end,
            double hours,
            Map<String, String> groups,
            Map<String, Double> covariates) {
        for (int i = 0; i < n; i++) {
            list.add(new AnimalOutcome("a" + (list.size() + 1), groups, covariates, fate, end, hours, null));
        }
        return this;
    }

    List<AnimalOutcome> list() {
        return List.copyOf(list);
    }
}
