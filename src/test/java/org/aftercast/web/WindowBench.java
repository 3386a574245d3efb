package org.aftercast.web;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import org.aftercast.intake.ColumnStore;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleSource;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.Hashes;
import org.aftercast.study.RawFile;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.NewStudy;
import org.aftercast.voyage.ReadStudy;
import org.aftercast.voyage.Settings;

/**
 * How long windows take: 500 random windows of 2000 columns, all panels, log-uniform zoom, from a stored and read recording
 * of 72 hours at 100 samples a second; and how many frames a second are drawn while a person pans at several zooms in a real
 * browser. Invented samples; not a test. Run by bench/pages; docs/benchmarks-pages.md has the figures.
 */
public final class WindowBench {

    private static final double RATE_HZ = 100;
    private static final int COLUMNS = 2000;
    private static final int WINDOWS = 500;

    private WindowBench() {}

    /** Swimming at 1 Hz with noise, at slowly changing depth; made as it is read. */
    private record Invented(long sampleCount) implements SampleSource {
        @Override
        public Set<Channel> channels() {
            return Set.of(
                    Channel.ACCELERATION_X,
                    Channel.ACCELERATION_Y,
                    Channel.ACCELERATION_Z,
                    Channel.DEPTH,
                    Channel.TEMPERATURE);
        }

        @Override
        public void read(Channel channel, long from, int count, float[] into, int at) {
            for (int k = 0; k < count; k++) {
                long i = from + k;
                double s = i / RATE_HZ;
                long hash = (i * 5 + channel.ordinal()) * 0x9E3779B97F4A7C15L;
                double noise = ((hash >>> 40) / (double) (1 << 24) - 0.5) * 0.04;
                double depth = 30 + 20 * Math.sin(s / 3000) + 5 * Math.sin(s / 170);
                into[at + k] = (float)
                        switch (channel) {
                            case ACCELERATION_X -> 0.05 * Math.sin(s / 50) + noise;
                            case ACCELERATION_Y -> 0.15 * Math.sin(2 * Math.PI * s) + noise;
                            case ACCELERATION_Z -> 1 + noise;
                            case TEMPERATURE -> 14 - depth / 20;
                            default -> Math.rint(depth * 20) / 20;
                        };
            }
        }
    }

    /** Optional argument: hours (72). */
    public static void main(String[] args) throws Exception {
        double hours = args.length > 0 ? Double.parseDouble(args[0]) : 72;
        Path dir = Files.createTempDirectory("aftercast-bench-");
        FileStore files = FileStore.onDisk();
        InstantSource clock = InstantSource.system();
        Path study = dir.resolve("study");
        try {
            new NewStudy(files, clock).make(study, StudyInfo.titled("bench (invented)"), "bench");
            long began = System.nanoTime();
            store(study, hours, files, clock);
            say("stored", began);
            began = System.nanoTime();
            try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, files, clock)) {
                new ReadStudy(store, clock).read("bench", List.of(), Settings.defaults(), (a, d, t, k) -> {});
            }
            say("read", began);
            measure(study, hours, clock);
        } finally {
            files.delete(dir);
        }
    }

    private static void store(Path study, double hours, FileStore files, InstantSource clock) throws Exception {
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, files, clock)) {
            store.change("bench", change -> {
                change.add(Animal.named("B"));
                return 0;
            });
            byte[] raw = "made for measuring".getBytes(java.nio.charset.StandardCharsets.UTF_8);
            String sha = Hashes.ofBytes(raw);
            files.write(store.rawFolder().resolve(sha + "-x"), raw);
            Recording recording = new Recording(
                    sha,
                    new SampleClock(Instant.parse("2026-06-01T00:00:00Z"), RATE_HZ),
                    new Invented((long) (hours * 3600 * RATE_HZ)),
                    List.of(),
                    List.of());
            Path parquet = store.recordingsFolder().resolve(sha + ".parquet");
            files.write(parquet, aside -> ColumnStore.parquet().write(recording, aside));
            store.addRecording(
                    "bench",
                    new RecordingRow(
                            sha,
                            "B",
                            String.valueOf(parquet.getFileName()),
                            Hashes.ofFile(parquet),
                            recording.samples().sampleCount(),
                            RATE_HZ,
                            recording.clock().startUtc(),
                            "{}",
                            clock.instant(),
                            "bench"),
                    List.of(new RawFile(sha, sha, 1, "x", sha + "-x", raw.length)));
        }
    }

    private static void measure(Path study, double hours, InstantSource clock) throws Exception {
        try (PageServer server = PageServer.start(study, 0, PageServer.Reach.THIS_MACHINE, clock)) {
            HttpClient client = HttpClient.newHttpClient();
            String base = server.address() + "api/animals/B/";
            long began = System.nanoTime();
            String key = Json.MAPPER
                    .readTree(get(client, base + "recording"))
                    .path("key")
                    .asText();
            say("summary built", began);
            Random random = new Random(7);
            double whole = hours * 3600;
            double[] ms = new double[WINDOWS];
            double[] raw = new double[WINDOWS];
            int narrow = 0;
            for (int i = -50; i < WINDOWS; i++) {
                double length = Math.exp(Math.log(10) + random.nextDouble() * (Math.log(whole) - Math.log(10)));
                double from = random.nextDouble() * (whole - length);
                began = System.nanoTime();
                get(
                        client,
                        base + "window?key=" + key + "&columns=" + COLUMNS + "&fromS=" + from + "&toS="
                                + (from + length));
                if (i >= 0) {
                    ms[i] = (System.nanoTime() - began) / 1e6;
                    if (!MinMaxFile.covers(length * RATE_HZ / COLUMNS)) {
                        raw[narrow++] = ms[i];
                    }
                }
            }
            Arrays.sort(ms);
            double[] near = Arrays.copyOf(raw, narrow);
            Arrays.sort(near);
            System.out.printf(
                    Locale.ROOT,
                    "%d windows of %d columns: median %.1f ms, p95 %.1f ms, most %.1f ms; %d from the samples themselves:"
                            + " median %.1f ms, p95 %.1f ms%n",
                    WINDOWS,
                    COLUMNS,
                    ms[WINDOWS / 2],
                    ms[(int) (0.95 * WINDOWS)],
                    ms[WINDOWS - 1],
                    narrow,
                    near[narrow / 2],
                    near[(int) (0.95 * narrow)]);
            pan(server, hours, study.resolveSibling("profile"));
        }
    }

    /** Pans by the wheel once a frame for some seconds at each zoom and counts how often the panels were drawn. */
    private static void pan(PageServer server, double hours, Path profile) throws Exception {
        try (Browser browser = Browser.at(server, profile)) {
            for (int width : new int[] {1280, 390}) {
                browser.size(width, width == 390 ? 844 : 900);
                for (int spanS : new int[] {86_400, 3600, 60, 10}) {
                    int from = (int) Math.min(100_000, hours * 1800);
                    browser.open("recording/B?from=" + from + "&to=" + (from + spanS));
                    browser.until("document.querySelector('.panels').dataset.ready === 'yes'");
                    Object[] counted = ((List<?>) browser.driver.executeAsyncScript(PAN, PAN_MS)).toArray();
                    double frames = ((Number) counted[0]).doubleValue() / PAN_MS * 1000;
                    double longestMs = ((Number) counted[1]).doubleValue();
                    System.out.printf(
                            Locale.ROOT,
                            "panning over %d s at %d pixels: %.0f frames a second, longest pause %.0f ms%n",
                            spanS,
                            width,
                            frames,
                            longestMs);
                }
            }
        } catch (org.opentest4j.TestAbortedException noBrowser) {
            System.out.println("panning was not measured: " + noBrowser.getMessage());
        }
    }

    private static final int PAN_MS = 4000;
    private static final String PAN = "const [length, done] = [arguments[0], arguments[arguments.length - 1]];"
            + "const box = document.querySelector('.panels'); const plot = box.querySelector('canvas.plot');"
            + "const first = Number(box.dataset.paints); const began = performance.now(); let last = began; let pause = 0;"
            + "const step = () => { const now = performance.now(); pause = Math.max(pause, now - last); last = now;"
            + "if (now - began > length) { done([Number(box.dataset.paints) - first, pause]); return; }"
            + "plot.dispatchEvent(new WheelEvent('wheel', {deltaX: Math.sin((now - began) / 1000) > 0 ? 12 : -12, deltaY: 0,"
            + "clientX: 300, clientY: 300, cancelable: true})); requestAnimationFrame(step); };"
            + "requestAnimationFrame(step);";

    private static String get(HttpClient client, String address) throws Exception {
        HttpResponse<String> response =
                client.send(HttpRequest.newBuilder(URI.create(address)).build(), HttpResponse.BodyHandlers.ofString());
        if (response.statusCode() != 200) {
            throw new IllegalStateException(response.body());
        }
        return response.body();
    }

    private static void say(String what, long began) {
        System.out.printf(Locale.ROOT, "%s in %.1f s%n", what, (System.nanoTime() - began) / 1e9);
    }
}
