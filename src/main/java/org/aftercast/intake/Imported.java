package org.aftercast.intake;

import java.util.List;
import org.aftercast.recording.Recording;

/**
 * A download that was read.
 *
 * @param recording the recording
 * @param layout the layout with which it was read (the guess, if none was given)
 * @param guessNotes how the layout was found, line by line; empty when it was given
 * @param sha256 SHA-256 of the raw bytes in lower-case hexadecimal
 * @param rowCount rows with values in the file
 */
public record Imported(
        Recording recording, DownloadLayout layout, List<String> guessNotes, String sha256, long rowCount) {
    public Imported {
        guessNotes = List.copyOf(guessNotes);
    }
}
