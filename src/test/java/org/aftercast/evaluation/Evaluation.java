package org.aftercast.evaluation;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.estimate.CoverageTables;
import org.aftercast.search.DriftEvaluation;
import org.aftercast.search.HuntEvaluation;
import org.aftercast.search.PingEvaluation;
import org.aftercast.sim.ScenarioDraw;

/**
 * Measures Aftercast against recordings with known truth and writes the tables of {@code docs/evaluation}. Run by
 * {@code ./evaluate}.
 */
public final class Evaluation {

    static final List<String> PARTS = List.of(
            "beats",
            "mount",
            "fates",
            "hard",
            "bursts",
            "recovery",
            "robustness",
            "coverage",
            "drift",
            "pings",
            "hunts");

    private Evaluation() {}

    /** Arguments: parts (none: all), {@code --generator CLASS}, {@code --share X}, {@code --tuning}, {@code --out DIR}. */
    public static void main(String[] args) throws Exception {
        Generator generator = new SimGenerator();
        double share = 1;
        Path out = Path.of(System.getProperty("aftercast.basedir", "."), "docs", "evaluation");
        List<String> parts = new ArrayList<>();
        for (int i = 0; i < args.length; i++) {
            switch (args[i]) {
                case "--generator" ->
                    generator = (Generator)
                            Class.forName(args[++i]).getDeclaredConstructor().newInstance();
                case "--tuning" -> generator = new SimGenerator(ScenarioDraw.Use.TUNING);
                case "--share" -> share = Double.parseDouble(args[++i]);
                case "--out" -> out = Path.of(args[++i]);
                default -> parts.add(args[i]);
            }
        }
        if (parts.isEmpty()) {
            parts.addAll(PARTS);
        }
        for (String part : parts) {
            long from = System.nanoTime();
            FateParts.Page made = page(part, generator, share);
            String page = made.text();
            double minutes = (System.nanoTime() - from) / 60e9;
            System.out.println(page);
            System.out.printf(Locale.ROOT, "%s took %.1f min%n%n", part, minutes);
            write(out.resolve(part + ".md"), page);
            if (!made.diagram().isEmpty()) {
                write(out.resolve(diagramName(part)), made.diagram());
            }
        }
    }

    private static String diagramName(String part) {
        return part + "-reliability.svg";
    }

    static FateParts.Page page(String part, Generator generator, double share) {
        Generator.Purpose purpose = switch (part) {
            case "fates" -> Generator.Purpose.WHOLE;
            case "hard" -> Generator.Purpose.HARD;
            default -> null;
        };
        String text = text(part, generator, share);
        if (purpose == null) {
            return new FateParts.Page(text, "");
        }
        FateParts.Page whole =
                FateParts.whole(generator, purpose, many(part.equals("fates") ? 200 : 400, share), diagramName(part));
        return new FateParts.Page(text + whole.text(), whole.diagram());
    }

    /** The page, or its head where a figure goes with it. */
    private static String text(String part, Generator generator, double share) {
        return switch (part) {
            case "coverage" -> CoverageTables.text();
            case "beats" ->
                head(
                                "Tailbeats and posture",
                                generator,
                                "Well animals for an hour each: 0.2–6 Hz, 0.02–1.5 g, 5–100 Hz sampling, any mount,"
                                        + " noise as in-band standard deviation (half to twice the beat frequency).")
                        + MotionParts.beats(generator, many(400, share));
            case "mount" ->
                head(
                                "Shifts of the mount",
                                generator,
                                "Ten hours at 20 Hz scenarios; a 20° tilt step after two hours of four, and mounts"
                                        + " that do not move over a day.")
                        + MotionParts.mount(generator, many(80, share), many(30, share));
            case "fates" ->
                head(
                        "Fates, bouts and bursts",
                        generator,
                        run(200, share)
                                + " of 10 h at 20 Hz, every story; release, planned detachment, length and"
                                + " whether the animal can rest are known, as in a study.");
            case "hard" ->
                head(
                        "Fates, bouts and bursts: the harder set",
                        generator,
                        run(400, share)
                                + " of 12–36 h at 10–25 Hz, weaker beats, rougher sea, gaps; known as in a"
                                + " study.");
            case "bursts" ->
                head("Bursts", generator, "Well animals for a day each at 20 Hz; a burst counts as found within 10 s.")
                        + MoreParts.bursts(generator, many(30, share));
            case "recovery" ->
                head(
                                "Recovery",
                                generator,
                                run(1000, share)
                                        + " of animals that must swim, half of 12 h, half of 24 h, at 8 Hz, beat frequency wandering on its own with"
                                        + " correlation times of 2–40 min; the recovery of beat frequency to 80 %.")
                        + MoreParts.recovery(generator, many(1000, share));
            case "robustness" ->
                head(
                                "Robustness",
                                generator,
                                run(100, share) + " of 10 h, the same in every line, seen in different ways.")
                        + MoreParts.robust(
                                generator instanceof SimGenerator sim ? sim.use() : ScenarioDraw.Use.TESTING,
                                many(100, share));
            case "drift" ->
                "# Drift forecasts\n\nMade by `./evaluate drift`; written anew by each run. Every table says whether its data"
                        + " are real or invented.\n\n" + DriftEvaluation.page(many(120, share));
            case "pings" ->
                "# Ping meter (simulated)\n\nInvented sound of 8000 samples a second; made by `./evaluate pings`; written anew"
                        + " by each run. White noise; an engine: twelve tones, a hiss that swells with it, knocks; pings of 18"
                        + " and 30 ms at 500–2700 Hz, 35–115 a minute.\n\n" + PingEvaluation.page(many(20, share), 120);
            case "hunts" ->
                "# Hunts (simulated)\n\nInvented, truth known; made by `./evaluate hunts`; written anew by each run. What is"
                        + " drawn is told in [search.md](search.md).\n\n"
                        + HuntEvaluation.page(many(500, share), 20_000);
            default -> throw new IllegalArgumentException(part + ": no such part; one of " + PARTS);
        };
    }

    private static String run(int count, double share) {
        int done = many(count, share);
        return done + " recordings" + (done < count ? " (the first of " + count + ")" : "");
    }

    private static int many(int count, double share) {
        return Math.max(1, (int) Math.round(count * share));
    }

    private static String head(String title, Generator generator, String what) {
        return "# " + title + " (simulated)\n\n"
                + "*Simulated.* Every figure here is against invented recordings with known truth, from "
                + generator.name() + "; real records are harder. Made by `./evaluate`; written anew by each run.\n\n"
                + what + "\n\n";
    }

    private static void write(Path file, String page) throws IOException {
        Files.createDirectories(file.getParent());
        Files.write(file, page.getBytes(StandardCharsets.UTF_8));
    }
}
