package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DemoTest {

    @TempDir
    private Path folder;

    private final Demo demo = new Demo(FileStore.onDisk(), InstantSource.system());

    @Test
    void castIsAsTheDesignSays() {
        List<DemoCast.Animal> cast = DemoCast.animals();
        assertThat(cast).hasSize(24);
        assertThat(cast.stream().map(DemoCast.Animal::name).collect(Collectors.toSet()))
                .hasSize(24);
        assertThat(cast.stream()
                        .mapToInt(animal -> Integer.parseInt(animal.cells().getOrDefault("fightMin", "0")))
                        .summaryStatistics())
                .satisfies(fights -> {
                    assertThat(fights.getMin()).isEqualTo(2);
                    assertThat(fights.getMax()).isEqualTo(35);
                });
        assertThat(cast.stream().filter(animal -> animal.fate() == DemoCast.Whereabouts.ADRIFT))
                .hasSize(1);
        assertThat(cast.stream()
                        .filter(animal ->
                                Set.of("gut", "throat").contains(animal.cells().getOrDefault("hookLocation", ""))))
                .hasSizeBetween(3, 5);
        assertThat(cast.stream()
                        .map(animal -> animal.scenario().ending().course())
                        .collect(Collectors.toSet()))
                .hasSizeGreaterThanOrEqualTo(7);
    }

    /** The whole job with four animals: one swims on, one is eaten, one is adrift, one cannot be told. */
    @Test
    void fourAnimalsGoTheWholeWay() throws Exception {
        Set<String> wanted = Set.of("SH-01", "SH-07", "SH-16", "SH-24");
        List<DemoCast.Animal> cast = DemoCast.animals().stream()
                .filter(animal -> wanted.contains(animal.name()))
                .toList();
        Path study = folder.resolve("study");
        List<String> said = new ArrayList<>();
        demo.make(study, cast, said::add);

        assertThat(said).anyMatch(line -> line.startsWith("3 recordings read"));
        assertThat(said).anyMatch(line -> line.startsWith("Report: ") && line.endsWith("report.html"));
        String report = Files.readString(study.resolve("reports").resolve("report.html"));
        assertThat(report).containsIgnoringCase("invented").contains("SH-07").contains("SH-24");
        try (var raw = Files.list(study.resolve("raw"))) {
            assertThat(raw).hasSize(3);
        }
        Seek.Options options = new Seek.Options(SearchSettings.defaults(), 2, null);
        SeekDocument sought = new Seek(FileStore.onDisk()).run(study.resolve("searches/SH-24.csv"), options);
        assertThat(sought).isNotNull();
    }

    @Test
    void aTakenFolderIsRefusedAndLeftAlone() throws Exception {
        Path mine = Files.writeString(folder.resolve("mine.txt"), "mine");
        assertThatThrownBy(() -> demo.make(folder, line -> {}))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("not empty");
        assertThat(mine).hasContent("mine");
        try (var inside = Files.list(folder)) {
            assertThat(inside).hasSize(1);
        }
    }
}
