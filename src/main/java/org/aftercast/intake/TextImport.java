package org.aftercast.intake;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.jspecify.annotations.Nullable;

/**
 * Reads text downloads into a {@link Recording}.
 *
 * <p>What may stand in a file and how each ambiguity is read: {@code docs/interpretation/text.md}. The way of the bytes:
 * {@link TextBytes} unpacks and recodes, {@link BlockReader} cuts into whole lines, {@link BlockParsing} parses blocks on
 * all cores by {@link RowParser}, {@link RowIntake} checks them in order and keeps them in a {@link RowStore}, and
 * {@link GridSource} shows them as samples on the even grid.
 */
public final class TextImport {

    private static final int BLOCK_BYTES = 1 << 20;

    private TextImport() {}

    /**
     * Reads a file that fits into memory.
     *
     * @param file plain text, or text packed with gzip, zip or zstd
     * @param layout how to read it, or null to read it by an unambiguous guess
     * @param options what is known beyond the file
     * @throws ImportException if the file cannot be read; or if no layout is given and the guess is ambiguous, in which
     *     case the message says what is
     */
    public static Imported read(Path file, @Nullable DownloadLayout layout, ImportOptions options)
            throws ImportException {
        return read(List.of(file), layout == null ? List.of() : List.of(layout), options);
    }

    /**
     * Reads several files that fit into memory: files that continue one another, or one per sensor.
     *
     * @param layouts none, one for all files, or one per file
     * @throws ImportException as for {@link #read(Path, DownloadLayout, ImportOptions)}
     */
    public static Imported read(List<Path> files, List<DownloadLayout> layouts, ImportOptions options)
            throws ImportException {
        try (OpenImport open = open(ImportRequest.inMemory(files, layouts, options))) {
            Recording recording = open.recording();
            Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
            for (Channel channel : recording.samples().channels()) {
                float[] column = new float[(int) recording.samples().sampleCount()];
                recording.samples().read(channel, 0, column.length, column, 0);
                columns.put(channel, column);
            }
            Recording inMemory = new Recording(
                    recording.sourceSha256(),
                    recording.clock(),
                    new MemorySamples(columns),
                    recording.gaps(),
                    recording.flags());
            List<String> notes = open.guesses().stream()
                    .flatMap(guess -> guess.notes().stream())
                    .toList();
            return new Imported(inMemory, open.layouts().get(0), notes, recording.sourceSha256(), open.rowCount());
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException impossible) {
            throw new ImportException(files.get(0).toString(), 0, 0, "cannot be read", "a text file that may be read");
        }
    }

    /**
     * Reads files of any length: rows are kept aside, memory does not grow with them.
     *
     * @throws ImportException if a file cannot be read, or its guess is ambiguous
     * @throws IOException if rows or raw copies cannot be written
     * @throws java.util.concurrent.CancellationException if the request's progress says so
     */
    public static OpenImport open(ImportRequest request) throws IOException {
        List<RowStore> stores = new ArrayList<>();
        boolean done = false;
        try {
            OpenImport open = new Reading(request, stores).run();
            done = true;
            return open;
        } finally {
            if (!done) {
                for (RowStore store : stores) {
                    store.close();
                }
            }
        }
    }

    /** Guesses and reads text that was opened elsewhere, in memory. */
    static Recording readOpened(TextBytes text, ImportOptions options) throws IOException {
        Reading reading = new Reading(
                ImportRequest.inMemory(List.of(Path.of(text.file())), List.of(), options), new ArrayList<>());
        try (BlockParsing parsing = new BlockParsing()) {
            reading.text(0, text, parsing);
        }
        return SensorJoin.recording(reading.identity(), reading.sensors);
    }

    /** One import under way. */
    private static final class Reading {
        private final ImportRequest request;
        private final List<RowStore> stores;
        private final List<DownloadLayout> layouts = new ArrayList<>();
        private final List<LayoutGuess> guesses = new ArrayList<>();
        private final List<OpenImport.RawInput> inputs = new ArrayList<>();
        private final List<SensorRows> sensors = new ArrayList<>();
        private long bytesDone;
        private long bytesTotal;

        Reading(ImportRequest request, List<RowStore> stores) {
            this.request = request;
            this.stores = stores;
        }

        OpenImport run() throws IOException {
            for (Path file : request.files()) {
                bytesTotal += Files.isRegularFile(file) ? Files.size(file) : 0;
            }
            try (BlockParsing parsing = new BlockParsing()) {
                for (int f = 0; f < request.files().size(); f++) {
                    file(f, parsing);
                }
            }
            String sha256 = identity();
            List<ChannelSummary> summaries = new ArrayList<>();
            long rows = 0;
            for (SensorRows sensor : sensors) {
                rows += sensor.intake().rows();
                for (ChannelWatch watch : sensor.intake().watches()) {
                    summaries.add(watch.summary());
                }
            }
            Recording recording = SensorJoin.recording(sha256, sensors);
            return new OpenImport(
                    recording,
                    layouts,
                    guesses,
                    inputs,
                    summaries,
                    rows,
                    stores.stream().map(OpenImport.RowsAside::new).toList());
        }

        private void file(int number, BlockParsing parsing) throws IOException {
            Path file = request.files().get(number);
            ImportRequest.RawCopy copies = request.rawCopy();
            OutputStream copy = copies == null ? null : copies.open(number);
            try (TextBytes text = TextBytes.open(file, copy)) {
                text(number, text, parsing);
            }
        }

        private void text(int number, TextBytes text, BlockParsing parsing) throws IOException {
            BlockReader blocks = new BlockReader(text, BLOCK_BYTES);
            TextHead head = TextHead.of(text.file(), blocks.head());
            DownloadLayout layout = layoutOf(number, head);
            layouts.add(layout);
            ColumnPlan plan = ColumnPlan.of(text.file(), layout, head.header(layout));
            RowIntake intake = intakeFor(text.file(), plan);
            blocks.skipLines(layout.text().firstDataLine() - 1);
            parsing.run(text, blocks, plan, intake, request.progress(), bytesDone, bytesTotal);
            String sha256 = text.finishSha256();
            inputs.add(new OpenImport.RawInput(request.files().get(number), sha256, text.rawBytes()));
            bytesDone += text.rawBytes();
        }

        private DownloadLayout layoutOf(int number, TextHead head) throws ImportException {
            List<DownloadLayout> given = request.layouts();
            if (!given.isEmpty()) {
                return given.get(given.size() == 1 ? 0 : number);
            }
            LayoutGuess guess = LayoutGuess.of(head, request.options());
            guesses.add(guess);
            return guess.layoutOrThrow(head.file());
        }

        /** Files with the same channels continue one another; a file with other channels is another sensor's. */
        private RowIntake intakeFor(String file, ColumnPlan plan) throws IOException {
            for (SensorRows sensor : sensors) {
                if (sensor.carriesSame(plan)) {
                    sensor.intake().continueWith(file, plan);
                    return sensor.intake();
                }
            }
            Path spill = request.spill();
            RowStore store = spill == null
                    ? RowStore.inMemory()
                    : RowStore.inFile(spill.resolveSibling(spill.getFileName() + "-" + stores.size()));
            stores.add(store);
            RowIntake intake = new RowIntake(file, plan, request.options(), store);
            sensors.add(new SensorRows(file, plan.channels, intake, store));
            return intake;
        }

        /** SHA-256 of the only file; of the files' hashes, a line each, where there are several. */
        private String identity() {
            if (inputs.size() == 1) {
                return inputs.get(0).sha256();
            }
            StringBuilder lines = new StringBuilder();
            for (OpenImport.RawInput input : inputs) {
                lines.append(input.sha256()).append('\n');
            }
            try {
                byte[] digest = MessageDigest.getInstance("SHA-256")
                        .digest(lines.toString().getBytes(StandardCharsets.US_ASCII));
                return HexFormat.of().formatHex(digest);
            } catch (NoSuchAlgorithmException impossible) {
                throw new IllegalStateException("every Java has SHA-256", impossible);
            }
        }
    }
}
