package org.aftercast.intake;

import java.io.IOException;
import java.util.ArrayDeque;
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
    private static final int FIRST_ROWS = 1024;

    /** Blocks to be used again: a long file would otherwise fill the heap with garbage faster than it is collected. */
    private final Deque<RowBlock> spare = new ArrayDeque<>();

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
                        underway.add(submit(blocks, plan));
                    }
                }
                if (underway.isEmpty()) {
                    break;
                }
                RowBlock block = await(underway.remove(), text.file(), blocks);
                long line = blocks.line();
                blocks.passed(block.lines);
                intake.accept(block, line);
                spare.add(block);
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

    private Future<RowBlock> submit(BlockReader blocks, ColumnPlan plan) {
        RowBlock.Tail tail = blocks.isLast() ? RowBlock.Tail.MAY_BE_CUT_OFF : RowBlock.Tail.WHOLE;
        RowBlock block = spare.poll();
        if (block == null || block.values.length != plan.channels.length) {
            block = new RowBlock(plan.channels.length, FIRST_ROWS);
        }
        block.restart(blocks.bytes(), blocks.from(), blocks.to());
        return parse(block, plan, tail);
    }

    private Future<RowBlock> parse(RowBlock block, ColumnPlan plan, RowBlock.Tail tail) {
        return workers.submit(() -> {
            new RowParser(plan).parse(block.text, 0, block.textLength, tail, block);
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
