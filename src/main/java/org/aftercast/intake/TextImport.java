package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * Reads a text download into a {@link Recording}.
 *
 * <p>What may stand in the file and how each ambiguity is read: {@code docs/interpretation/text.md}.
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
        try (TextBytes text = TextBytes.open(file);
                RowStore store = RowStore.inMemory()) {
            return read(text, layout, options, store);
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException impossible) {
            throw new ImportException(file.toString(), 0, 0, "cannot be read", "a text file that may be read");
        }
    }

    /** The same with bytes that were opened elsewhere. */
    static Imported read(TextBytes text, @Nullable DownloadLayout given, ImportOptions options, RowStore store)
            throws IOException {
        BlockReader blocks = new BlockReader(text, BLOCK_BYTES);
        TextHead head = TextHead.of(text.file(), blocks.head());
        DownloadLayout layout = given;
        List<String> notes = List.of();
        if (layout == null) {
            LayoutGuess guess = LayoutGuess.of(head, options);
            layout = guess.layoutOrThrow(text.file());
            notes = guess.notes();
        }
        ColumnPlan plan = ColumnPlan.of(text.file(), layout, head.header(layout));
        RowIntake intake = new RowIntake(text.file(), plan, options, store);
        RowParser parser = new RowParser(plan);
        blocks.skipLines(layout.text().firstDataLine() - 1);
        while (blocks.next()) {
            RowBlock block = new RowBlock(plan.channels.length, 1024);
            try {
                parser.parse(blocks.bytes(), blocks.from(), blocks.to(), block);
            } catch (RowProblem problem) {
                throw problem.in(text.file(), blocks.line());
            }
            blocks.passed(block.lines);
            intake.accept(block, blocks.line() - block.lines);
        }
        String sha256 = text.finishSha256();
        Placement placement = intake.finish();
        return new Imported(inMemory(sha256, plan, placement, store), layout, notes, sha256, intake.rows());
    }

    private static Recording inMemory(String sha256, ColumnPlan plan, Placement placement, RowStore store)
            throws IOException {
        int n = (int) placement.sampleCount();
        Map<Channel, float[]> columns = new EnumMap<>(Channel.class);
        for (int c = 0; c < plan.channels.length; c++) {
            float[] column = new float[n];
            Arrays.fill(column, Float.NaN);
            for (Placement.Run run : placement.runs()) {
                store.read(c, run.firstRow(), (int) run.rows(), column, (int) run.firstSample());
            }
            columns.put(plan.channels[c], column);
        }
        float[][] axes = columns.entrySet().stream()
                .filter(column -> column.getKey().isAcceleration())
                .map(Map.Entry::getValue)
                .toArray(float[][]::new);
        GapFinder gaps = new GapFinder();
        gaps.accept(axes, axes.length > 0 ? n : 0);
        List<SampleRange> found = axes.length > 0 ? gaps.finish() : placement.breaks();
        return new Recording(sha256, placement.clock(), new MemorySamples(columns), found, placement.flags());
    }
}
