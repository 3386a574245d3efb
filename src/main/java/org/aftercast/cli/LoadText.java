package org.aftercast.cli;

import java.io.PrintWriter;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import org.aftercast.intake.ChannelSummary;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.LayoutGuess;
import org.aftercast.intake.LayoutJson;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.aftercast.voyage.EraseCard;
import org.aftercast.voyage.ExplainDownload.Content;
import org.aftercast.voyage.ExplainDownload.Explained;
import org.aftercast.voyage.ExplainDownload.Together;
import org.aftercast.voyage.Loaded;
import org.jspecify.annotations.Nullable;

/** What {@code load} prints. */
final class LoadText {

    private static final int GAPS_SHOWN = 10;

    private LoadText() {}

    static void explain(PrintWriter out, Explained explained) {
        guess(out, explained);
        Content content = explained.content();
        if (content != null) {
            content(out, content);
        }
        layout(out, explained.layout(), content != null);
        out.flush();
    }

    /** Several files: each for itself, then what they give joined. */
    static void explain(PrintWriter out, Together together) {
        Content content = together.content();
        for (Explained explained : together.each()) {
            guess(out, explained);
            LayoutGuess guess = explained.guess();
            layout(out, explained.layout(), guess == null || guess.isUnambiguous());
        }
        if (content == null) {
            out.println("The " + together.each().size()
                    + " files are shown together, as one recording, once each of them is clear.");
        } else {
            out.println("The " + together.each().size() + " files together, as one recording:");
            content(out, content);
        }
        out.flush();
    }

    private static void guess(PrintWriter out, Explained explained) {
        out.println(explained.file());
        LayoutGuess guess = explained.guess();
        if (guess != null) {
            guess.notes().forEach(note -> out.println("  " + note));
            out.println("  column               taken for      because");
            for (LayoutGuess.ColumnGuess column : guess.columns()) {
                out.printf(
                        Locale.ROOT,
                        "  %2d %-17s %-14s %s%n",
                        column.number(),
                        column.name(),
                        column.takenFor(),
                        column.reason());
            }
            guess.ambiguities().forEach(doubt -> out.println("  NOT CLEAR: " + doubt));
        }
    }

    private static void layout(PrintWriter out, @Nullable DownloadLayout layout, boolean clear) {
        if (layout != null) {
            out.println(
                    clear
                            ? "  The layout (keep it with --save-layout):"
                            : "  The layout so far (mend it, then give it with --layout):");
            LayoutJson.write(layout).lines().forEach(line -> out.println("    " + line));
        }
    }

    static void loaded(PrintWriter out, Loaded loaded) {
        loaded.notices().forEach(notice -> out.println("Note: " + notice));
        out.printf(
                Locale.ROOT,
                "Loaded for %s as %s.%n",
                loaded.row().animal(),
                loaded.row().parquetName());
        content(
                out,
                new SampleClock(loaded.row().startUtc(), loaded.row().sampleRateHz()),
                loaded.row().sampleCount(),
                loaded.summaries(),
                loaded.gaps(),
                loaded.flags());
        card(out, loaded.card());
        out.flush();
    }

    private static void content(PrintWriter out, Content content) {
        content(out, content.clock(), content.sampleCount(), content.summaries(), content.gaps(), content.flags());
    }

    private static void content(
            PrintWriter out,
            SampleClock clock,
            long sampleCount,
            List<ChannelSummary> summaries,
            List<SampleRange> gaps,
            List<Flag> flags) {
        double seconds = sampleCount / clock.sampleRateHz();
        Instant end = clock.instantAt(seconds);
        out.printf(Locale.ROOT, "  %d samples at %.6g Hz, %.2f h", sampleCount, clock.sampleRateHz(), seconds / 3600);
        out.println(clock.startUtc() == null ? ", no time of day" : ", from " + clock.startUtc() + " to " + end);
        out.println("  channel           first      last     least  greatest   values");
        for (ChannelSummary s : summaries) {
            out.printf(
                    Locale.ROOT,
                    "  %-12s %10.4g %9.4g %9.4g %9.4g %8d%n",
                    s.channel().columnName(),
                    s.first(),
                    s.last(),
                    s.least(),
                    s.greatest(),
                    s.count());
            out.println("    " + s.sketch());
        }
        for (SampleRange gap : gaps.subList(0, Math.min(GAPS_SHOWN, gaps.size()))) {
            out.printf(
                    Locale.ROOT,
                    "  gap: %.3f s from %.3f s on%n",
                    gap.sampleCount() / clock.sampleRateHz(),
                    clock.secondsAt(gap.fromSample()));
        }
        if (gaps.size() > GAPS_SHOWN) {
            out.println("  and " + (gaps.size() - GAPS_SHOWN) + " more gaps");
        }
        flags.stream().limit(20).forEach(flag -> out.println("  flag: " + flag.note()));
        if (flags.size() > 20) {
            out.println("  and " + (flags.size() - 20) + " more flags");
        }
    }

    private static void card(PrintWriter out, EraseCard card) {
        out.println(
                card.mayBeErased() == EraseCard.Answer.YES
                        ? "May the logger be erased? YES."
                        : "May the logger be erased? NO, not yet:");
        for (EraseCard.Check check : card.checks()) {
            out.printf(
                    "  %-3s  %s: %s%n",
                    check.answer() == EraseCard.Answer.YES ? "yes" : "no", check.what(), check.note());
        }
    }
}
