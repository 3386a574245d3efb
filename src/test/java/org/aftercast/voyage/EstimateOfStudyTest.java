package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.function.UnaryOperator;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The estimate of a study uses what the study has declared; invented. */
class EstimateOfStudyTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T00:00:00Z"));

    @TempDir
    private Path folder;

    @Test
    void theDeclaredHorizonIsTheDefaultAndAnEmptyStudyIsRefused() throws Exception {
        Path study = folder.resolve("s");
        StudyInfo base = StudyInfo.titled("Invented");
        StudyInfo info = new StudyInfo(
                StudyInfo.ID,
                base.title(),
                null,
                null,
                base.timeZone(),
                null,
                null,
                base.bottomRest(),
                7,
                null,
                11,
                base.frequencySpacingKHz(),
                base.packageMassLimitPercent(),
                StudyInfo.Origin.INVENTED,
                null);
        new NewStudy(FileStore.onDisk(), CLOCK).make(study, info, "test");
        EstimateStudy estimate = new EstimateStudy(FileStore.onDisk());
        assertThatThrownBy(() -> estimate.fromStudy(study, null, UnaryOperator.identity(), CLOCK))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("accepted");
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            store.change("test", change -> {
                change.add(Animal.named("A1"));
                change.add(new FloatPackage("P1", null, null, null, null, null, null, null));
                change.add(
                        new Release("A1", "P1", Instant.parse("2026-06-01T08:00:00Z"), null, null, null, null, null));
                return 0;
            });
        }
        EstimateDocument document = estimate.fromStudy(
                study,
                null,
                declared -> {
                    assertThat(declared.horizonH()).isEqualTo(11);
                    assertThat(declared.deaths().withinH()).isEqualTo(7);
                    return declared;
                },
                CLOCK);
        assertThat(document.estimate().headline().horizonH()).isEqualTo(11);
    }
}
