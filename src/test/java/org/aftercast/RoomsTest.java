package org.aftercast;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the rooms: a room may use what is listed beside it and nothing else of the project. */
class RoomsTest {

    private static final String ROOT = "org.aftercast.";

    private static final Set<String> DOMAIN =
            Set.of("estimate", "fate", "behaviour", "motion", "search", "recording", "geo", "stats", "signal");

    private static final Map<String, Set<String>> MAY_USE = Map.ofEntries(
            Map.entry("signal", Set.of()),
            Map.entry("stats", Set.of()),
            Map.entry("geo", Set.of()),
            Map.entry("recording", Set.of("signal")),
            Map.entry("search", Set.of("geo", "signal", "stats")),
            Map.entry("motion", Set.of("recording", "signal", "stats")),
            Map.entry("behaviour", Set.of("motion", "recording", "signal", "stats")),
            Map.entry("fate", Set.of("behaviour", "stats")),
            Map.entry("estimate", Set.of("fate", "behaviour", "stats")),
            Map.entry("sim", Set.of("recording", "geo", "search")),
            Map.entry("instruments", Set.of("geo", "signal")),
            Map.entry("intake", Set.of("recording")),
            Map.entry("study", DOMAIN),
            Map.entry("report", DOMAIN),
            Map.entry("voyage", union(DOMAIN, Set.of("report", "study", "intake", "instruments", "sim"))),
            Map.entry("cli", union(DOMAIN, Set.of("voyage", "study", "intake", "report", "web"))),
            Map.entry("web", union(DOMAIN, Set.of("voyage", "study", "intake", "report"))));

    private static final Set<String> PURE =
            Set.of("signal", "stats", "geo", "recording", "motion", "behaviour", "fate", "estimate", "search", "sim");

    /** What a pure room must not touch: files, sockets, the time, randomness without a seed. */
    private static final List<String> IMPURE = List.of(
            "java.io.File",
            "java.nio.file.",
            "java.net.",
            "java.sql.",
            "java.time.Clock",
            "java.util.concurrent.ThreadLocalRandom");

    private final JavaClasses classes = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("org.aftercast");

    @Test
    void everyRoomUsesOnlyWhatStandsBesideIt() {
        Set<String> offences = new TreeSet<>();
        for (JavaClass from : classes) {
            String room = roomOf(from);
            Set<String> allowed = MAY_USE.get(room);
            assertThat(allowed)
                    .as("room of %s is one of the house", from.getName())
                    .isNotNull();
            from.getDirectDependenciesFromSelf().stream()
                    .map(dependency -> dependency.getTargetClass().getBaseComponentType())
                    .filter(to -> to.getPackageName().startsWith("org.aftercast"))
                    .map(RoomsTest::roomOf)
                    .filter(to -> !to.equals(room) && !allowed.contains(to))
                    .forEach(to -> offences.add(from.getName() + " uses " + to));
        }
        assertThat(offences).isEmpty();
    }

    @Test
    void pureRoomsTouchNoFilesSocketsOrClocks() {
        Set<String> offences = new TreeSet<>();
        for (JavaClass from : classes) {
            if (!PURE.contains(roomOf(from))) {
                continue;
            }
            from.getDirectDependenciesFromSelf().stream()
                    .map(dependency ->
                            dependency.getTargetClass().getBaseComponentType().getName())
                    .filter(name -> IMPURE.stream().anyMatch(name::startsWith))
                    .forEach(name -> offences.add(from.getName() + " uses " + name));
            from.getMethodCallsFromSelf().stream()
                    .filter(call -> call.getName().equals("now")
                            || call.getName().equals("currentTimeMillis")
                            || call.getName().equals("nanoTime"))
                    .filter(call -> call.getTargetOwner().getName().startsWith("java."))
                    .forEach(call -> offences.add(from.getName() + " asks the time"));
        }
        assertThat(offences).isEmpty();
    }

    @Test
    void everyRoomIsNarratedAndKnown() {
        Set<String> rooms = new TreeSet<>();
        Set<String> narrated = new TreeSet<>();
        for (JavaClass c : classes) {
            rooms.add(roomOf(c));
            if (c.getSimpleName().equals("package-info")) {
                narrated.add(roomOf(c));
            }
        }
        assertThat(rooms).isEqualTo(new TreeSet<>(MAY_USE.keySet()));
        assertThat(narrated).isEqualTo(rooms);
    }

    private static String roomOf(JavaClass c) {
        String rest = c.getPackageName().substring(ROOT.length());
        int dot = rest.indexOf('.');
        return dot < 0 ? rest : rest.substring(0, dot);
    }

    private static Set<String> union(Set<String> a, Set<String> b) {
        Set<String> all = new TreeSet<>(a);
        all.addAll(b);
        return all;
    }
}
