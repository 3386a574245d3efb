package org.aftercast.evaluation;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.sim.ScenarioDraw;

/**
 * Measures Aftercast against recordings with known truth and writes the tables of {@code docs/evaluation}. Run by
 * {@code ./evaluate}.
 */
public final class Evaluation {

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
            parts.addAll(List.of("beats", "mount"));
        }
        for (String part : parts) {
            long from = System.nanoTime();
            String page = page(part, generator, share);
            double minutes = (System.nanoTime() - from) / 60e9;
            System.out.println(page);
            System.out.printf(Locale.ROOT, "%s took %.1f min%n%n", part, minutes);
            write(out.resolve(part + ".md"), page);
        }
    }

    static String page(String part, Generator generator, double share) {
        return switch (part) {
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
            default -> throw new IllegalArgumentException(part + ": no such part; beats, mount");
        };
    }

    private static int many(int count, double share) {
        return Math.max(4, (int) Math.round(count * share));
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
