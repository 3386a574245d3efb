package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.aftercast.sim.Course;
import org.aftercast.sim.DifficultyRange;
import org.aftercast.sim.ScenarioDraw;
import org.aftercast.sim.SimulatedRecording;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/** Writes invented recordings with known truth: one CSV as a logger writes it, one JSON with the truth, each. */
public final class Simulate {

    private final FileStore files;

    /** Writes through this store. */
    public Simulate(FileStore files) {
        this.files = files;
    }

    /**
     * What to invent.
     *
     * @param kind a course's word ({@link #kinds()}), or null for any
     * @param difficulty plain, hard or extreme
     * @param hours length of each recording, 0.1–100 h; null: as the difficulty draws it
     * @param rateHz samples per second, 1–200 Hz; null: as the difficulty draws it
     * @param seed first number of the series
     * @param count how many, 1–10 000
     */
    public record Wish(
            @Nullable String kind,
            String difficulty,
            @Nullable Double hours,
            @Nullable Double rateHz,
            long seed,
            int count) {}

    /**
     * Two files written.
     *
     * @param csv the recording
     * @param truth the truth
     * @param course the story's word
     */
    public record Written(Path csv, Path truth, String course) {}

    /** The words that {@link Wish#kind()} may be. */
    public static List<String> kinds() {
        return Arrays.stream(Course.values()).map(Course::word).toList();
    }

    /**
     * Writes all recordings into a folder, which is made when it is absent.
     *
     * @throws BadInputException if the wish cannot be met; nothing is written then
     * @throws IOException if a file cannot be written
     */
    public List<Written> write(Wish wish, Path folder) throws BadInputException, IOException {
        DifficultyRange range = range(wish);
        Course course = course(wish.kind());
        if (wish.count() < 1 || wish.count() > 10_000) {
            throw new BadInputException("--count: " + wish.count() + " is outside 1 to 10000");
        }
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new BadInputException(folder + ": is a file, and a folder is needed");
        }
        Files.createDirectories(folder);
        List<Written> written = new ArrayList<>();
        for (int i = 0; i < wish.count(); i++) {
            long number = wish.seed() + i;
            ScenarioDraw.Drawn drawn = ScenarioDraw.draw(range, ScenarioDraw.Use.TUNING, number, course);
            SimulatedRecording made = drawn.simulate();
            String name = "invented-" + drawn.scenario().ending().course().word() + "-" + number;
            Path csv = folder.resolve(name + ".csv");
            Path truth = folder.resolve(name + ".truth.json");
            files.write(csv, aside -> SimulatedCsv.write(made.samples(), made.clock(), comments(made), aside));
            files.write(truth, TruthJson.of(made.truth()));
            written.add(
                    new Written(csv, truth, drawn.scenario().ending().course().word()));
        }
        return written;
    }

    private static List<String> comments(SimulatedRecording made) {
        return List.of(
                "INVENTED DATA: simulated by aftercast; not a real animal, place or time.",
                String.format(
                        Locale.ROOT,
                        "scenario %s, seed %d, %s samples a second",
                        made.truth().scenario().name(),
                        made.truth().seed(),
                        Double.toString(made.clock().sampleRateHz())));
    }

    private static @Nullable Course course(@Nullable String kind) throws BadInputException {
        if (kind == null) {
            return null;
        }
        for (Course course : Course.values()) {
            if (course.word().equals(kind)) {
                return course;
            }
        }
        throw new BadInputException("--kind: \"" + kind + "\" is not known; one of "
                + Simulate.kinds().stream().collect(Collectors.joining(", ")));
    }

    private static DifficultyRange range(Wish wish) throws BadInputException {
        DifficultyRange range = switch (wish.difficulty()) {
            case "plain" -> DifficultyRange.plain();
            case "hard" -> DifficultyRange.hard();
            case "extreme" -> DifficultyRange.extreme();
            default ->
                throw new BadInputException(
                        "--difficulty: \"" + wish.difficulty() + "\" is not known; one of plain, hard, extreme");
        };
        Double hours = wish.hours();
        Double rateHz = wish.rateHz();
        if (hours != null && !(hours >= 0.1 && hours <= 100)) {
            throw new BadInputException("--hours: " + hours + " is outside 0.1 to 100");
        }
        if (rateHz != null && !(rateHz >= 1 && rateHz <= 200)) {
            throw new BadInputException("--rate-hz: " + rateHz + " is outside 1 to 200");
        }
        return range.with(
                rateHz == null ? range.ratesHz() : new double[] {rateHz},
                hours == null ? range.lowDurationH() : hours,
                hours == null ? range.highDurationH() : hours);
    }
}
