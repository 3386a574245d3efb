package org.aftercast.fate;

import org.jspecify.annotations.Nullable;

/**
 * One thing that people saw.
 *
 * @param what what it was
 * @param atS when, seconds from the first sample, or null when it has no time (a package found weeks later)
 * @param note in the observer's own words, with the photograph's name if there is one; may be empty
 */
public record Sighting(What what, @Nullable Double atS, String note) {

    /** Kinds of things that people see. */
    public enum What {
        SWAM_OFF_STRONGLY("it swam off strongly"),
        SWAM_OFF_WEAKLY("it swam off weakly"),
        SANK_WITHOUT_SWIMMING("it sank without swimming"),
        FLOATED_AT_RELEASE("it lay at the surface and could not dive"),
        TOOTH_MARKS("the package had tooth marks"),
        SCRATCHES("the package was scratched"),
        WATER_INSIDE("there was water inside the package"),
        ATTACHMENT_BROKEN("the attachment was broken"),
        LARGER_FISH_ABOUT("larger fish were about that day"),
        SEEN_ALIVE_LATER("it was seen alive later"),
        FOUND_DEAD("it was found dead");

        private final String words;

        What(String words) {
            this.words = words;
        }

        /** As said in a sentence. */
        public String words() {
            return words;
        }
    }
}
