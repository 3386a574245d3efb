package org.aftercast.cli;

import java.io.Console;
import java.io.PrintWriter;
import java.nio.file.Path;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.aftercast.intake.ImportProgress;
import org.jspecify.annotations.Nullable;

/** A bar with rate and time left on a terminal; nothing where the output goes to a file. Ctrl-C stops the program. */
final class LoadProgress implements ImportProgress, AutoCloseable {

    private static final long WORTH_A_BAR_BYTES = 8L << 20;

    private final String name;
    private @Nullable ProgressBar bar;

    private LoadProgress(String name) {
        this.name = name;
    }

    static LoadProgress on(PrintWriter err, Path file) {
        err.flush();
        return new LoadProgress(String.valueOf(file.getFileName()));
    }

    @Override
    public void at(long bytesDone, long bytesTotal) {
        if (bar == null && bytesTotal >= WORTH_A_BAR_BYTES && isTerminal()) {
            bar = new ProgressBarBuilder()
                    .setTaskName(name)
                    .setInitialMax(bytesTotal)
                    .setUnit(" MB", 1_000_000)
                    .setStyle(ProgressBarStyle.ASCII)
                    .setUpdateIntervalMillis(250)
                    .showSpeed()
                    .build();
        }
        if (bar != null) {
            bar.stepTo(bytesDone);
        }
    }

    /** Since Java 22 there is a console even where there is no terminal, and a method that tells them apart. */
    @SuppressWarnings("SystemConsoleNull")
    private static boolean isTerminal() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            return Boolean.TRUE.equals(Console.class.getMethod("isTerminal").invoke(console));
        } catch (ReflectiveOperationException before22) {
            return true;
        }
    }

    @Override
    public void close() {
        finish();
    }

    /** Takes the bar off the screen. */
    void finish() {
        if (bar != null) {
            bar.close();
            bar = null;
        }
    }
}
