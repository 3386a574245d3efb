package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real process is killed, and the next start tidies up after it but not after one that is alive. */
class ScratchTest {

    @TempDir
    private Path temporary;

    /** The process that is killed. */
    public static void main(String[] args) throws Exception {
        Files.write(Scratch.make("test").folder().resolve("rows"), new byte[2_000_000]);
        System.out.println("made");
        Thread.sleep(TimeUnit.MINUTES.toMillis(1));
    }

    @Test
    void whatAKilledProcessLeftIsRemovedAndSaid() throws Exception {
        Process process = new ProcessBuilder(
                        ProcessHandle.current().info().command().orElse("java"),
                        "-Djava.io.tmpdir=" + temporary,
                        "-cp",
                        System.getProperty("java.class.path"),
                        ScratchTest.class.getName())
                .redirectErrorStream(true)
                .start();
        try {
            assertThat(process.inputReader().readLine()).isEqualTo("made");
            assertThat(Scratch.sweep(temporary)).as("of a living process").isEmpty();
            assertThat(left()).hasSize(1);
        } finally {
            process.destroyForcibly().waitFor();
        }
        List<Path> left = left();
        assertThat(left).hasSize(1);
        assertThat(Scratch.sweep(temporary))
                .containsExactly("Removed what a process that was killed had left: " + left.get(0) + " (2.0 MB).");
        assertThat(left()).isEmpty();
        assertThat(Scratch.sweep(temporary)).isEmpty();
    }

    @Test
    void whatIsClosedIsGoneAndOthersAreLeftAlone() throws Exception {
        Path folder;
        try (Scratch scratch = Scratch.make("test")) {
            folder = scratch.folder();
            Files.createDirectory(folder.resolve("deep"));
            Files.writeString(folder.resolve("deep/rows"), "1");
            assertThat(Scratch.sweep(folder.getParent())).noneMatch(said -> said.contains(folder.toString()));
            assertThat(folder).exists();
        }
        assertThat(folder).doesNotExist();
        Path foreign = Files.createDirectory(temporary.resolve("aftercast-scratch-like"));
        assertThat(Scratch.sweep(temporary)).isEmpty();
        assertThat(foreign).exists();
    }

    private List<Path> left() throws Exception {
        try (Stream<Path> all = Files.list(temporary)) {
            return all.filter(p -> p.getFileName().toString().startsWith("aftercast-"))
                    .toList();
        }
    }
}
