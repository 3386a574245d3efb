package org.aftercast.cli;

import static org.aftercast.cli.Ran.run;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import org.aftercast.study.FileStore;
import org.aftercast.study.SmallStudy;
import org.aftercast.study.StudyStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The commands of the study as a person types them. */
class StudyCommandsTest {

    @TempDir
    Path temp;

    @Test
    void fromAnEmptyStudyToAVerifiedCopy() throws IOException {
        String study = temp.resolve("s").toString();
        Ran made = run(
                "new",
                study,
                "--title",
                "Bay trial",
                "--rests-on-bottom",
                "yes",
                "--time-zone",
                "Europe/London",
                "--latitude",
                "52.4",
                "--longitude",
                "-4.2",
                "--who",
                "KB");
        assertThat(made.code()).as(made.err()).isZero();
        assertThat(run("list", study).out()).contains("Bay trial").contains("No animals yet");

        Ran template = run("enter", "--template");
        assertThat(template.out()).startsWith("animal,species,");
        Path csv = temp.resolve("c.csv");
        Files.writeString(
                csv,
                "animal,packageSerial,releasedUtc,plannedDetachmentUtc\nB2,P2,2026-06-01 08:00,2026-06-02 08:00\nB1,,,\n");
        Ran entered = run("enter", study, csv.toString());
        assertThat(entered.out()).as(entered.err()).contains("2 added, 0 changed, 0 as before.");
        assertThat(run("list", study).out().lines())
                .anySatisfy(line -> assertThat(line).matches("B2 +adrift +P2 +[0-9.]+ +search for package P2"))
                .anySatisfy(line -> assertThat(line).matches("B1 +planned +- +assign a package"));

        Ran again = run("enter", study, csv.toString());
        assertThat(again.code()).isEqualTo(2);
        assertThat(again.err().lines())
                .hasSize(2)
                .allSatisfy(line -> assertThat(line).contains("in the study already"));
        assertThat(run("enter", study, csv.toString(), "--replace").out()).contains("0 added, 0 changed, 2 as before.");

        Path out = temp.resolve("out.csv");
        assertThat(run("enter", study, "--export", out.toString()).code()).isZero();
        assertThat(out).content().contains("B2,");

        assertThat(run("verify", study).out()).contains("all is well");
        Ran copy = run("copy", study, temp.resolve("copy").toString());
        assertThat(copy.code()).as(copy.err()).isZero();
        assertThat(copy.out()).contains("verified");
        assertThat(run("copy", study, temp.resolve("copy").toString()).code()).isEqualTo(2);
    }

    @Test
    void aDamagedStudyIsExitCodeOneAndNoStudyTwo() throws IOException {
        String raw = SmallStudy.make(temp.resolve("s"), InstantSource.system());
        Path file = temp.resolve("s/raw").resolve(raw);
        assertThat(file.toFile().setWritable(true)).isTrue();
        Files.writeString(file, "t,x,y,Z\n");
        Ran verify = run("verify", temp.resolve("s").toString());
        assertThat(verify.code()).isEqualTo(1);
        assertThat(verify.out())
                .contains("Wrong: raw/" + raw + ": its content was changed")
                .contains("1 problem");
        Ran none = run("verify", temp.resolve("none").toString());
        assertThat(none.code()).isEqualTo(2);
        assertThat(none.err()).contains("there is no study here");
    }

    @Test
    void aSecondReaderJudgesBlindAndTheyCanSettle() throws IOException {
        String study = temp.resolve("s").toString();
        SmallStudy.make(temp.resolve("s"), InstantSource.system());
        assertThat(run("judge", study).out()).contains("One verdict; a second reader is wanted (1): A1");
        Ran blind = run("judge", study, "A1", "--reader", "TM");
        assertThat(blind.out())
                .contains("shown when your verdict is locked")
                .contains("next: second verdict")
                .doesNotContain("alive");
        Ran locked = run(
                "judge",
                study,
                "a1",
                "--reader",
                "TM",
                "--animal-fate",
                "alive-at-end",
                "--record-end",
                "shed-early",
                "--reason",
                "pulled off");
        assertThat(locked.out()).as(locked.err()).contains("Locked as the second verdict on A1.");
        assertThat(run("judge", study, "A1", "--reader", "TM").out())
                .contains("machine: alive-at-end")
                .contains("first (KB")
                .contains("next: settled verdict");
        assertThat(run(
                                "judge",
                                study,
                                "A1",
                                "--reader",
                                "TM",
                                "--animal-fate",
                                "alive-at-end",
                                "--record-end",
                                "shed-early",
                                "--reason",
                                "ends on a tug",
                                "--settle")
                        .code())
                .isZero();
        assertThat(run("judge", study).out()).contains("Settled (1): A1");
        assertThat(run("verify", study).code()).isZero();
    }

    @Test
    void whatCannotBeUnderstoodIsExitCodeTwo() throws IOException {
        String study = temp.resolve("s").toString();
        SmallStudy.make(temp.resolve("s"), InstantSource.system());
        for (String[] args : new String[][] {
            {"new", study},
            {"new", temp.resolve("t").toString(), "--latitude", "91", "--longitude", "0"},
            {"new", temp.resolve("t").toString(), "--time-zone", "Wales"},
            {"new", temp.resolve("t").toString(), "--rests-on-bottom", "perhaps"},
            {"new", temp.resolve("t").toString(), "--who", "../KB"},
            {"enter"},
            {"enter", study},
            {"enter", study, temp.resolve("none.csv").toString()},
            {"list", temp.resolve("none").toString()},
            {"judge", study, "A1"},
            {"judge", study, "A1", "--reader", "TM", "--animal-fate", "fine", "--record-end", "flooded", "--reason", "x"
            },
            {
                "judge",
                study,
                "A1",
                "--reader",
                "TM",
                "--animal-fate",
                "died",
                "--record-end",
                "flooded",
                "--reason",
                "x",
                "--change-utc",
                "noon"
            },
            {"judge", study, "A1", "--reader", "TM", "--animal-fate", "died"},
            {"judge", study, "A9", "--reader", "TM"}
        }) {
            Ran run = run((Object[]) args);
            assertThat(run.code()).as(String.join(" ", args) + ": " + run.err()).isEqualTo(2);
            assertThat(run.err()).isNotBlank().doesNotContain("Exception");
        }
        assertThat(temp.resolve("t")).doesNotExist();
    }

    @Test
    void aStudyInUseSaysWhoHoldsIt() throws IOException {
        SmallStudy.make(temp.resolve("s"), InstantSource.system());
        Path csv = Files.writeString(temp.resolve("c.csv"), "animal\nB1\n");
        try (StudyStore held = StudyStore.open(
                temp.resolve("s"), StudyStore.Access.WRITE, FileStore.onDisk(), InstantSource.system())) {
            Ran run = run("enter", held.folder().toString(), csv.toString());
            assertThat(run.code()).isEqualTo(2);
            assertThat(run.err()).contains("another aftercast is writing to this study (process ");
            assertThat(run("list", held.folder().toString()).code()).isZero();
        }
    }
}
