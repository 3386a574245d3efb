package org.aftercast.geo;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * One line as instruments on boats speak it (NMEA 0183): {@code $TTSSS,field,…*CC}, TT the talker, SSS the sentence.
 *
 * <p>The checksum is the exclusive-or of the bytes between {@code $} (or {@code !}) and {@code *}, two hexadecimal digits
 * (common practice; the standard is not free). A line without one is taken and marked {@link Checksum#MISSING}.
 *
 * @param talker who speaks, for example {@code GP}; any talker is taken; {@code P} for proprietary sentences
 * @param type the sentence, for example {@code RMC}
 * @param fields what stands between the commas, trimmed, possibly empty
 * @param checksum whether the line carried its checksum
 */
public record NmeaSentence(String talker, String type, List<String> fields, Checksum checksum) {

    /** Longest line in characters without line end, by the standard (from memory); longer ones up to 200 are taken. */
    public static final int USUAL_LENGTH = 82;

    private static final int LONGEST = 200;

    /** Whether the line carried its checksum. */
    public enum Checksum {
        /** Present and right. */
        GOOD,
        /** Absent: nothing guards the line. */
        MISSING
    }

    public NmeaSentence {
        fields = List.copyOf(fields);
    }

    /** A line that cannot be used, and why. */
    public static final class BadSentenceException extends Exception {
        private static final long serialVersionUID = 1L;

        BadSentenceException(String why) {
            super(why);
        }
    }

    /**
     * Reads one line.
     *
     * @throws BadSentenceException if it is not a sentence, is damaged (checksum) or too long
     */
    public static NmeaSentence parse(String line) throws BadSentenceException {
        String text = line.strip();
        if (text.length() > LONGEST) {
            throw new BadSentenceException(
                    "line of " + text.length() + " characters; a sentence has at most " + USUAL_LENGTH);
        }
        if (text.isEmpty() || (text.charAt(0) != '$' && text.charAt(0) != '!')) {
            throw new BadSentenceException("'" + shorten(text) + "' does not start with $");
        }
        int star = text.indexOf('*');
        String body = star < 0 ? text.substring(1) : text.substring(1, star);
        Checksum state = Checksum.MISSING;
        if (star >= 0) {
            String given = text.substring(star + 1);
            String right = checksum(body);
            if (!given.equalsIgnoreCase(right)) {
                throw new BadSentenceException("'" + shorten(text) + "': checksum " + given + " should be " + right);
            }
            state = Checksum.GOOD;
        }
        String[] parts = body.split(",", -1);
        String address = parts[0];
        if (address.length() < 4 || !address.chars().allMatch(c -> (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z'))) {
            throw new BadSentenceException("'" + shorten(text) + "': no talker and sentence after $");
        }
        List<String> fields = Arrays.stream(parts).skip(1).map(String::strip).toList();
        if (address.charAt(0) == 'P') {
            return new NmeaSentence("P", address.substring(1), fields, state);
        }
        int split = address.length() - 3;
        return new NmeaSentence(address.substring(0, split), address.substring(split), fields, state);
    }

    /** The checksum of what stands between {@code $} and {@code *}: two upper-case hexadecimal digits. */
    public static String checksum(String body) {
        int sum = 0;
        for (int i = 0; i < body.length(); i++) {
            sum ^= body.charAt(i);
        }
        return String.format(Locale.ROOT, "%02X", sum & 0xFF);
    }

    /** The field at an index from 0, or an empty string if the line is shorter. */
    public String field(int index) {
        return index < fields.size() ? fields.get(index) : "";
    }

    private static String shorten(String text) {
        return text.length() <= 40 ? text : text.substring(0, 40) + "…";
    }
}
