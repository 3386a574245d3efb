package org.aftercast.voyage;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.study.Detachment;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.EraseCard.Answer;
import org.aftercast.voyage.EraseCard.Check;
import org.jspecify.annotations.Nullable;

/** Fills in the card that says whether a logger may be erased. */
final class EraseCards {

    private EraseCards() {}

    static EraseCard of(
            StudyStore store,
            RecordingRow row,
            Recording recording,
            LoadRequest request,
            DownloadLayout layout,
            List<String> verifiedCopies)
            throws IOException {
        List<Check> checks = new ArrayList<>();
        checks.add(
                verifiedCopies.size() >= 2
                        ? yes("two verified copies", String.join(" and ", verifiedCopies))
                        : no(
                                "two verified copies",
                                "only " + String.join("", verifiedCopies)
                                        + "; give a second place, best on another disk (--second-copy)"));
        DownloadLayout.ClockNotes notes = layout.clock();
        checks.add(
                notes != null && notes.readTrue() != null
                        ? yes("clock noted at read-out", "logger " + notes.readLogger() + ", true " + notes.readTrue())
                        : no(
                                "clock noted at read-out",
                                "note what the logger shows and the true time now"
                                        + " (--readout-logger, --readout-true): once it is erased its drift can no longer be known"));
        checks.add(covers(store, row, recording));
        checks.add(
                switch (request.battery()) {
                    case OK -> yes("battery fine", "noted as fine");
                    case LOW -> no("battery fine", "noted as low: the end of the record may be missing");
                    case NOT_NOTED -> no("battery fine", "not noted (--battery ok or --battery low)");
                });
        checks.add(flags(recording));
        return new EraseCard(checks);
    }

    private static Check covers(StudyStore store, RecordingRow row, Recording recording) throws IOException {
        String what = "record covers release to detachment";
        Instant start = recording.clock().startUtc();
        if (start == null) {
            return no(what, "the recording has no time of day (--start)");
        }
        Instant end =
                java.util.Objects.requireNonNull(recording.clock().instantAt(recording.durationS()), "has a start");
        Optional<Release> release = store.find(Release.class, row.animal());
        Instant released = release.map(Release::releasedUtc).orElse(null);
        if (released == null) {
            return no(what, "the time of release is not entered");
        }
        Instant detached = detachedUtc(store, row.animal(), release.orElseThrow());
        if (detached == null) {
            return no(what, "neither a detachment nor a planned one is entered");
        }
        if (start.isAfter(released)) {
            return no(what, "it begins " + span(released, start) + " after the release");
        }
        if (end.isBefore(detached)) {
            return no(what, "it ends " + span(end, detached) + " before the detachment");
        }
        return yes(what, "from " + start + " to " + end);
    }

    private static @Nullable Instant detachedUtc(StudyStore store, String animal, Release release) throws IOException {
        Optional<Detachment> detachment = store.find(Detachment.class, animal);
        return detachment.isPresent() ? detachment.get().detachedUtc() : release.plannedDetachmentUtc();
    }

    private static Check flags(Recording recording) {
        List<String> bad = new ArrayList<>();
        if (!recording.gaps().isEmpty()) {
            bad.add(recording.gaps().size() + " gaps");
        }
        for (Flag flag : recording.flags()) {
            if (flag.kind() == Flag.Kind.IMPLAUSIBLE || flag.kind() == Flag.Kind.REPEATED_TIME) {
                bad.add(flag.note());
            }
        }
        return bad.isEmpty()
                ? yes("no sign of a damaged download", "no gaps, no repeated or impossible values")
                : no(
                        "no sign of a damaged download",
                        String.join("; ", bad) + "; download once more and compare before anything is erased");
    }

    private static String span(Instant from, Instant to) {
        Duration span = Duration.between(from, to);
        return span.toHours() > 0
                ? span.toHours() + " h " + span.toMinutesPart() + " min"
                : span.toMinutes() > 0 ? span.toMinutes() + " min" : span.toSeconds() + " s";
    }

    private static Check yes(String what, String note) {
        return new Check(what, Answer.YES, note);
    }

    private static Check no(String what, String note) {
        return new Check(what, Answer.NO, note);
    }
}
