package org.aftercast.voyage;

import java.util.List;
import org.aftercast.intake.ChannelSummary;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleRange;
import org.aftercast.study.RecordingRow;

/**
 * A download that now belongs to a study.
 *
 * @param row its record
 * @param layouts the layout of each file
 * @param summaries one per channel
 * @param gaps runs of samples without acceleration
 * @param flags what else must be known
 * @param card whether the logger may be erased
 * @param notices what opening the study had to tidy up
 */
public record Loaded(
        RecordingRow row,
        List<DownloadLayout> layouts,
        List<ChannelSummary> summaries,
        List<SampleRange> gaps,
        List<Flag> flags,
        EraseCard card,
        List<String> notices) {}
