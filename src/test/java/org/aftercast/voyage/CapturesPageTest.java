package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.aftercast.study.CaptureSheet;
import org.junit.jupiter.api.Test;

class CapturesPageTest {

    /** docs/captures.md describes each column once, in the order of the template, with every word it accepts. */
    @Test
    void everyColumnIsDocumented() throws Exception {
        List<String> rows =
                Files.readAllLines(Path.of(System.getProperty("aftercast.basedir", "."), "docs/captures.md")).stream()
                        .filter(line -> line.startsWith("| `"))
                        .toList();
        assertThat(rows.stream().map(row -> row.split("`")[1])).containsExactlyElementsOf(CaptureSheet.columns());
        for (String row : rows) {
            String accepts = CaptureSheet.accepts(row.split("`")[1]);
            if (accepts.startsWith("one of ")) {
                for (String word : accepts.substring("one of ".length()).split(", ")) {
                    assertThat(row).contains("`" + word + "`");
                }
            }
        }
    }

    @Test
    void theTemplateIsTheHeaderAlone() {
        assertThat(EnterCaptures.template()).isEqualTo(String.join(",", CaptureSheet.columns()) + "\n");
    }
}
