package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** docs/commands.md says what the commands say of themselves. */
class CommandsPageTest {

    @Test
    void everyCommandAndOptionIsOnThePage() throws IOException {
        Path page = Path.of(System.getProperty("aftercast.basedir", "."), "docs/commands.md");
        assertThat(Files.readString(page))
                .as("docs/commands.md is out of date: run org.aftercast.cli.CommandsPage from the project's root")
                .isEqualTo(CommandsPage.text());
    }
}
