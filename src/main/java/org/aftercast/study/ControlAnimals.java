package org.aftercast.study;

import org.jspecify.annotations.Nullable;

/**
 * Control animals of the study: handled, tagged and watched like the others, but not caught by the gear.
 *
 * @param id always {@code controls}: there is one count per study
 * @param animals watched up to the study's horizon, 1 to 1 000 000
 * @param died of these, dead by the horizon
 * @param controlNotes free text, or null
 */
public record ControlAnimals(
        String id, int animals, int died, @Nullable String controlNotes) {

    /** The one key. */
    public static final String ID = "controls";

    private static final int MOST = 1_000_000;

    public ControlAnimals {
        Rules rules = new Rules()
                .within("animals", animals, 1, MOST, "")
                .within("died", died, 0, Math.max(0, animals), "")
                .note("controlNotes", controlNotes);
        if (!ID.equals(id)) {
            rules.add("id", "must be \"" + ID + "\"");
        }
        rules.check();
    }

    /** A count without notes. */
    public static ControlAnimals of(int animals, int died) {
        return new ControlAnimals(ID, animals, died, null);
    }
}
