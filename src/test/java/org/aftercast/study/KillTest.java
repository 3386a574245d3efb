package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A program that enters animals and adds recordings and readings is killed (SIGKILL) at random moments. Each time the
 * study opens, tidies up, verifies clean, and holds everything that was reported as done. A kill is not a power cut:
 * what the system had buffered still reaches the disk.
 */
class KillTest {

    private static final int ROUNDS = Integer.getInteger("aftercast.kill.rounds", 6);
    private static final InstantSource CLOCK = InstantSource.system();

    @TempDir
    Path temp;

    @Test
    void killedAtAnyMomentTheStudyIsWhole() throws Exception {
        Path study = temp.resolve("s");
        StudyStore.create(study, StudyInfo.titled("t"), "KB", FileStore.onDisk(), CLOCK)
                .close();
        Random random = new Random(20260610);
        int done = 0;
        int tidied = 0;
        for (int round = 0; round < ROUNDS; round++) {
            int reported = killed(study, done, random.nextInt(400));
            try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
                tidied += store.notices().size();
                int animals = store.all(Animal.class).size();
                assertThat(animals).as("what was reported as done is there").isGreaterThanOrEqualTo(reported);
                done = animals;
            }
            StudyCheck.Report report = StudyCheck.of(study, CLOCK, p -> {});
            assertThat(report.problems()).isEmpty();
            assertThat(report.notes()).isEmpty();
        }
        assertThat(done).as("the victims got somewhere").isPositive();
        System.out.println("kill test: " + ROUNDS + " kills, " + done + " animals, " + tidied + " leftovers tidied");
    }

    /** Runs the victim, kills it some milliseconds after its first report; returns the highest number it reported. */
    private static int killed(Path study, int from, int afterMs) throws IOException, InterruptedException {
        Process victim = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xshare:auto",
                        "-XX:TieredStopAtLevel=1",
                        "-cp",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
                        Victim.class.getName(),
                        study.toString(),
                        Integer.toString(from))
                .redirectErrorStream(true)
                .start();
        int reported = from;
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(victim.getInputStream(), StandardCharsets.UTF_8))) {
            String first = out.readLine();
            assertThat(first).isEqualTo("working");
            Thread.sleep(afterMs);
            victim.toHandle().destroyForcibly(); // unlike Process.destroyForcibly it leaves the output readable
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                if (line.matches("done \\d+")) {
                    reported = Integer.parseInt(line.substring(5));
                }
            }
        } finally {
            victim.destroyForcibly();
            assertThat(victim.waitFor(20, TimeUnit.SECONDS)).isTrue();
        }
        return reported;
    }

    /** Adds animal after animal, each with a recording and a reading, until it is killed. */
    static final class Victim {

        private Victim() {}

        public static void main(String[] args) throws IOException {
            try (StudyStore store =
                    StudyStore.open(Path.of(args[0]), StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
                System.out.println("working");
                for (int n = Integer.parseInt(args[1]) + 1; ; n++) {
                    add(store, n);
                    System.out.println("done " + n);
                }
            }
        }

        private static void add(StudyStore store, int n) throws IOException {
            String name = "A" + n;
            store.change("KB", change -> {
                change.put(Animal.named(name));
                change.put(new FloatPackage("P" + n, null, null, null, null, null, null, null));
                change.put(new Release(name, "P" + n, null, null, null, null, null, null));
                return 0;
            });
            byte[] content = ("download of " + name + " ").repeat(20_000).getBytes(StandardCharsets.UTF_8);
            String sha = Hashes.ofBytes(content);
            Path raw = store.rawFolder().resolve(sha + "-download.csv");
            store.files().write(raw, content);
            store.files().makeReadOnly(raw);
            store.files().write(store.recordingsFolder().resolve(sha + ".parquet"), content);
            store.addRecording(
                    "KB",
                    new RecordingRow(sha, name, sha + ".parquet", sha, 1, 25, null, "{}", CLOCK.instant(), "0"),
                    List.of(new RawFile(sha, sha, 1, "download.csv", sha + "-download.csv", content.length)));
            String key = ReadingRow.keyOf(sha, sha, "0");
            store.files().makeFolder(store.readingsFolder().resolve(key));
            store.files().write(store.readingsFolder().resolve(key).resolve("reading.json"), content);
            store.addReading(
                    "KB",
                    new ReadingRow(
                            key,
                            sha,
                            sha,
                            "0",
                            key,
                            Map.of("reading.json", sha),
                            CLOCK.instant(),
                            null,
                            null,
                            null,
                            null));
        }
    }

    /** A real limit of the operating system instead of an injected one: files may not grow beyond some kilobytes. */
    @Test
    void aDatabaseThatCannotGrowChangesNothing() throws Exception {
        org.assertj.core.api.Assumptions.assumeThat(Files.isExecutable(Path.of("/bin/bash")))
                .as("needs bash and its ulimit")
                .isTrue();
        Path study = temp.resolve("s");
        StudyStore.create(study, StudyInfo.titled("t"), "KB", FileStore.onDisk(), CLOCK)
                .close();
        int kilobytes = 6000; // enough for SQLite's own library, which is unpacked at start; too little for the change
        Process grower = new ProcessBuilder(
                        "/bin/bash",
                        "-c",
                        "ulimit -f " + kilobytes + "; exec \"$@\"",
                        "bash",
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-XX:TieredStopAtLevel=1",
                        "-cp",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
                        Grower.class.getName(),
                        study.toString())
                .redirectErrorStream(true)
                .start();
        String said = new String(grower.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(grower.waitFor(60, TimeUnit.SECONDS)).isTrue();
        assertThat(said).contains("the database refused").contains("nothing was changed");
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
            assertThat(store.all(Animal.class)).isEmpty();
        }
        assertThat(StudyCheck.of(study, CLOCK, p -> {}).problems()).isEmpty();
    }

    /** Puts far more into one transaction than the limit allows. */
    static final class Grower {

        private Grower() {}

        public static void main(String[] args) throws IOException {
            try (StudyStore store =
                    StudyStore.open(Path.of(args[0]), StudyStore.Access.WRITE, FileStore.onDisk(), CLOCK)) {
                store.change("KB", change -> {
                    for (int n = 0; n < 800; n++) {
                        change.put(new Animal("A" + n, null, null, "x".repeat(9000)));
                    }
                    return 0;
                });
                System.out.println("it all went in");
            } catch (StudyException refused) {
                System.out.println(refused.getMessage());
            }
        }
    }
}
