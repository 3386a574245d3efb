package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import org.aftercast.study.SmallStudy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a person mistyped is answered in their words, in two or three lines, with exit code 2. */
class ErrorWordsTest {

    @TempDir
    private Path temp;

    @Test
    void numbersTimesAndNamesAreWordedAlikeForEveryCommand() throws Exception {
        Path csv = Files.writeString(temp.resolve("f.csv"), "animal,fate,atRiskH\nA1,survived,24\n");
        says("'yesterday' is not a time; accepted: UTC such as", "load", temp, "A1", csv, "--start=yesterday");
        says("'abc' is not a number; accepted: such as 24", "estimate", csv, "--horizon=abc");
        says("'many' is not a whole number", "plan", "--share=0.1", "--animals=many");
        says("'docx' is not known; accepted: html, pdf, figures, data", "report", temp, "--only=docx");
        says("--horizon: -3", "plan", "--share=0.1", "--horizon=-3");
        says("--half-time: 0", "plan", "--share=0.1", "--half-time=0");
        says("needs more than 5000 animals; accepted", "plan", "--share=0.1", "--half-width=0.0000001");
        says("--control-deaths: 5 of --controls: 3", "estimate", csv, "--controls=3", "--control-deaths=5");
        says("Unknown option: '--shares=0.1'", "plan", "--shares=0.1");
    }

    @Test
    void aWrongWordOrAnimalIsNamedBeforeWhatIsMissing() throws Exception {
        Path study = temp.resolve("s");
        SmallStudy.make(study, InstantSource.system());
        says("accepted: A1", "judge", study, "SH-99");
        says("--animal-fate: \"dead\" is none of", "judge", study, "A1", "--reader=TM", "--animal-fate=dead");
    }

    private static void says(String words, Object... typed) {
        Ran run = Ran.run(typed);
        assertThat(run.code()).as(run.err()).isEqualTo(2);
        assertThat(run.err())
                .contains(words)
                .doesNotContain("java.", "Exception", "Usage:", "horizonH", "halfTimeH", "double", "null", "E-7");
        assertThat(run.err().lines()).hasSizeLessThan(5);
    }
}
