package org.aftercast.study;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** All tables, in an order in which what is referred to comes first. */
final class Tables {

    private static final Map<Class<? extends Record>, Table<?>> BY_TYPE = new LinkedHashMap<>();

    static {
        add("studyInfo", StudyInfo.class, 1);
        add("plan", KeptPlan.class, 1);
        add("controlAnimals", ControlAnimals.class, 1);
        add("fishery", Fishery.class, 1);
        add("animal", Animal.class, 1);
        add("package", FloatPackage.class, 1);
        add("capture", Capture.class, 1);
        add("landing", Landing.class, 1);
        add("release", Release.class, 1);
        add("detachment", Detachment.class, 1);
        add("searchOutcome", SearchOutcome.class, 2);
        add("checklist", Checklist.class, 1);
        add("photo", Photo.class, 1);
        add("seen", Seen.class, 2);
        add("recording", RecordingRow.class, 1);
        add("rawFile", RawFile.class, 1);
        add("mark", Mark.class, 2);
        add("reading", ReadingRow.class, 1);
        add("verdict", Verdict.class, 3);
    }

    private Tables() {}

    static List<Table<?>> all() {
        return List.copyOf(BY_TYPE.values());
    }

    @SuppressWarnings("unchecked") // the map pairs each class with its own table
    static <R extends Record> Table<R> of(Class<R> type) {
        Table<?> table = BY_TYPE.get(type);
        if (table == null) {
            throw new IllegalArgumentException(type.getSimpleName() + " is not a record of a study");
        }
        return (Table<R>) table;
    }

    private static <R extends Record> void add(String name, Class<R> type, int keyCount) {
        BY_TYPE.put(type, new Table<>(name, type, keyCount));
    }
}
