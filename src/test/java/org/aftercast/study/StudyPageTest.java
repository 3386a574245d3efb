package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

class StudyPageTest {

    /** docs/study.md describes each table once, in the program's order. */
    @Test
    void everyTableIsDocumented() throws Exception {
        String page = Files.readString(Path.of(System.getProperty("aftercast.basedir", "."), "docs/study.md"));
        String records = page.substring(page.indexOf("## Records"), page.indexOf("`history` holds"));
        assertThat(Pattern.compile("^\\| `(\\w+)` \\|", Pattern.MULTILINE)
                        .matcher(records)
                        .results()
                        .map(found -> found.group(1)))
                .containsExactlyElementsOf(
                        Tables.all().stream().map(Table::name).toList());
    }
}
