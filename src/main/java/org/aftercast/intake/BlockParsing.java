package org.aftercast.intake;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * Parses the blocks of one file on all cores and hands them on in order. At most {@value #AHEAD} blocks are under way, so
 * memory does not grow with the file.
 */
final class BlockParsing implements AutoCloseable {

    private static final int AHEAD = 4;
    private static final int SMALL_BYTES = 1 << 16;

    private final ExecutorService workers = Executors.newFixedThreadPool(
            Math.max(1, Math.min(AHEAD, Runtime.getRuntime().availableProcessors())), task -> {
                Thread thread = new Thread(task, "parse");
                thread.setDaemon(true);
                return thread;
            });

    /**
     * Parses what is left of a file.
     *
     * @param blocks stands before the first row of values
     * @param intake receives the blocks
     * @param progress told the raw bytes after every block
     * @param doneBefore raw bytes of the files before this one
     * @throws ImportException at the first problem, in the order of the lines
     */
    void run(
            TextBytes text,
            BlockReader blocks,
            ColumnPlan plan,
            RowIntake intake,
            ImportProgress progress,
            long doneBefore,
            long total)
            throws IOException {
        Deque<Future<RowBlock>> underway = new ArrayDeque<>();
        int rowsGuess = 1024;
        boolean more = true;
        ImportException broken = null;
        try {
            while (more || !underway.isEmpty()) {
                while (underway.size() < AHEAD && more) {
                    try {
                        more = blocks.next();
                    } catch (ImportException problem) {
                        // What stands before it is looked at first: the first problem of the file is the one to tell.
                        broken = problem;
                        more = false;
                    }
                    if (more) {
                        underway.add(submit(blocks, plan, rowsGuess));
                    }
                }
                if (underway.isEmpty()) {
                    break;
                }
                RowBlock block = await(underway.remove(), text.file(), blocks);
                long line = blocks.line();
                blocks.passed(block.lines);
                rowsGuess = Math.max(rowsGuess, block.rows + (block.rows >> 4));
                intake.accept(block, line);
                progress.at(doneBefore + text.rawBytes(), total);
                if (progress.isCancelled()) {
                    throw new CancellationException("the import was cancelled; nothing was kept");
                }
            }
            if (broken != null) {
                throw broken.line() > 0 ? broken.atLine(blocks.line()) : broken;
            }
        } finally {
            underway.forEach(rows -> rows.cancel(true));
        }
    }

    private Future<RowBlock> submit(BlockReader blocks, ColumnPlan plan, int rowsGuess) {
        boolean last = blocks.isLast();
        byte[] bytes = Arrays.copyOfRange(blocks.bytes(), blocks.from(), blocks.to());
        return workers.submit(() -> {
            RowBlock block = new RowBlock(plan.channels.length, bytes.length < SMALL_BYTES ? 1024 : rowsGuess);
            new RowParser(plan)
                    .parse(bytes, 0, bytes.length, last ? RowParser.Tail.MAY_BE_CUT_OFF : RowParser.Tail.WHOLE, block);
            return block;
        });
    }

    private static RowBlock await(Future<RowBlock> rows, String file, BlockReader blocks) throws IOException {
        try {
            return rows.get();
        } catch (ExecutionException failure) {
            if (failure.getCause() instanceof RowProblem problem) {
                throw problem.in(file, blocks.line());
            }
            if (failure.getCause() instanceof Error error) {
                throw error;
            }
            throw new IllegalStateException(
                    "parsing failed near line " + blocks.line() + " of " + file, failure.getCause());
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new CancellationException("the import was interrupted; nothing was kept");
        }
    }

    @Override
    public void close() {
        workers.shutdownNow();
    }
}
