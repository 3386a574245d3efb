package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.estimate.WhoWasTagged;
import org.aftercast.study.FileStore;
import org.aftercast.study.Landing;
import org.aftercast.study.StudyCheck;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Landings from a table into a study, and from there into the estimate; invented. */
class EnterLandingsTest {

    private static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-06-10T00:00:00Z"));

    @TempDir
    private Path folder;

    private Path study;

    @BeforeEach
    void makeStudy() throws Exception {
        study = folder.resolve("s");
        new NewStudy(FileStore.onDisk(), CLOCK).make(study, StudyInfo.titled("Invented"), "test");
        enter("animal,trip,packageSerial,releasedUtc,searchOutcome\n"
                + "A1,T1,P1,2026-06-01T08:00:00Z,given-up\nA2,T1,P2,2026-06-01T09:00:00Z,given-up\n"
                + "A3,T2,P3,2026-06-02T08:00:00Z,given-up\n");
    }

    private EnterCaptures.Result enter(String table) throws Exception {
        return enter(table, EnterCaptures.Existing.REFUSE);
    }

    private EnterCaptures.Result enter(String table, EnterCaptures.Existing existing) throws Exception {
        return new EnterCaptures(FileStore.onDisk(), CLOCK)
                .enterTable(study, "l.csv", table.getBytes(StandardCharsets.UTF_8), existing, "test");
    }

    private EstimateDocument estimate() throws Exception {
        return new EstimateStudy(FileStore.onDisk()).fromStudy(study, null, UnaryOperator.identity(), CLOCK);
    }

    @Test
    void landingsReachTheTableOfWhoWasTagged() throws Exception {
        assertThat(enter("trip,landed,deadAtVessel,tagged,notTagged\n"
                                + "T1,10,3,2,\"too small: 2; let go at once: 1\"\nT2,4,0,1,\n")
                        .warnings())
                .isEmpty();
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(store.all(Landing.class))
                    .containsExactly(
                            new Landing("T1", 10, 3, 2, Map.of("too small", 2, "let go at once", 1), null),
                            new Landing("T2", 4, 0, 1, Map.of(), null));
        }
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).problems()).isEmpty();
        assertThat(estimate().estimate().whoWasTagged().stages())
                .extracting(s -> s.animals() + " " + s.name())
                .startsWith(
                        "14 brought to the vessel",
                        "3 dead before release",
                        "1 released without a package: let go at once",
                        "2 released without a package: too small",
                        "5 released without a package, no reason noted",
                        "3 released with a package")
                .contains("3 package not retrieved", "3 search abandoned");
    }

    /** Found ashore and handed in are as good as taken from the water; only an abandoned search means a lost package. */
    @Test
    void waysInWhichPackagesCameBackReachTheTableOfWhoWasTagged() throws Exception {
        assertThat(enter(
                                "animal,searchOutcome,searchH,searchNm\nA1,stranded,2.5,11\nA2,handed-in,,\nA3,given-up,6,48\n",
                                EnterCaptures.Existing.REPLACE)
                        .changed())
                .isEqualTo(3);
        EstimateDocument document = estimate();
        assertThat(document.estimate().whoWasTagged().stages())
                .extracting(s -> s.animals() + " " + s.name() + ", of " + s.ofKind())
                .startsWith(
                        "3 released with a package, of TAGGED",
                        "2 not read yet, of TAGGED",
                        "2 package retrieved, of TAGGED",
                        "1 found ashore, of PACKAGE_RETRIEVED",
                        "1 handed in by somebody else, of PACKAGE_RETRIEVED",
                        "1 package not retrieved, of TAGGED",
                        "1 search abandoned, of PACKAGE_LOST");
        // The two have no outcome yet, for nobody has loaded them: the estimate does not take them for lost.
        assertThat(document.estimate().animals()).isEqualTo(1);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(StudyReturns.cost(store))
                    .isEqualTo("2 searches on record took 8.5 h at sea and 59.0 nautical miles in all.");
        }
    }

    @Test
    void aTripWithoutLandingsIsSaidAndTheDeathsBeforeReleaseAreNotGuessed() throws Exception {
        enter("trip,landed,deadAtVessel,tagged\nT1,10,3,2\n");
        EstimateDocument document = estimate();
        assertThat(document.estimate().whoWasTagged().stages().get(0).kind()).isEqualTo(WhoWasTagged.Kind.TAGGED);
        assertThat(document.estimate().limits()).anyMatch(l -> l.contains("recorded for 1 of 2 trips"));
        Headline headline = document.estimate().headline();
        assertThat(headline.vessel()).isNull();
    }

    @Test
    void numbersThatDifferFromTheCapturesAreTold() throws Exception {
        assertThat(enter("trip,landed,deadAtVessel,tagged\nT1,10,3,4\nT2,4,0,1\n")
                        .warnings())
                .singleElement()
                .asString()
                .contains("trip T1", "4 were tagged", "2 were released");
        assertThat(estimate().estimate().whoWasTagged().stages())
                .anyMatch(s -> s.kind() == WhoWasTagged.Kind.NO_OUTCOME_YET && s.animals() == 2);
    }

    @Test
    void badRowsAreNamedAndNothingIsEntered() throws Exception {
        assertThatThrownBy(() -> enter("trip,landed,deadAtVessel,tagged,notTagged\n"
                        + "T1,ten,3,2,\nT2,4,5,0,\nT2,4,0,1,\nT3,4,-1,1,\nT4,9,1,1,too small\nT5,3,1,1,cold: 2\n"))
                .isInstanceOf(BadInputException.class)
                .satisfies(bad -> assertThat(((BadInputException) bad).problems())
                        .anyMatch(p -> p.contains("line 2, column 2") && p.contains("whole number"))
                        .anyMatch(p -> p.contains("line 3, column 3") && p.contains("outside 0 to 4"))
                        .anyMatch(p -> p.contains("line 4, column 1") && p.contains("line 3 already"))
                        .anyMatch(p -> p.contains("line 5, column 3"))
                        .anyMatch(p -> p.contains("line 6, column 5") && p.contains("has no number"))
                        .anyMatch(p -> p.contains("line 7, column 5") && p.contains("more than landed")));
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.READ, FileStore.onDisk(), CLOCK)) {
            assertThat(store.all(Landing.class)).isEmpty();
        }
    }

    @Test
    void theSameAgainIsRefusedOrReplacedAndComesBackOut() throws Exception {
        String table = "trip,landed,deadAtVessel,tagged,notTagged,landingNotes\n" + "T1,10,3,2,too small: 2,\n";
        enter(table);
        assertThatThrownBy(() -> enter(table)).hasMessageContaining("--replace");
        assertThat(enter("trip,landed\nT1,11\n", EnterCaptures.Existing.REPLACE).changed())
                .isEqualTo(1);
        assertThat(ExportCaptures.landings(study, CLOCK)).isEqualTo(table.replace("T1,10", "T1,11"));
    }

    @Test
    void moreTaggedThanLandedIsRefused() throws Exception {
        Path fates = folder.resolve("f.csv");
        Files.writeString(fates, "animal,fate,atRiskH\nA,survived,24\nB,died,2\nC,survived,24\n");
        assertThatThrownBy(() -> new EstimateStudy(FileStore.onDisk())
                        .fromTable(
                                fates,
                                new LandedCounts(3, 1, List.of()),
                                org.aftercast.estimate.EstimateSettings.defaults()))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("more than all");
    }
}
