package org.aftercast.study;

import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * What was brought to the vessel on one trip: the animals behind those that were tagged.
 *
 * @param trip the trip, as in the capture table
 * @param landed animals brought to the vessel, 1 to 1 000 000
 * @param deadAtVessel of these, dead before they could be released
 * @param tagged of these, released with a package
 * @param notTagged landed alive and released without a package, by reason; they need not all have one
 * @param landingNotes free text, or null
 */
public record Landing(
        String trip,
        int landed,
        int deadAtVessel,
        int tagged,
        Map<String, Integer> notTagged,
        @Nullable String landingNotes) {

    private static final int MOST = 1_000_000;

    public Landing {
        Rules rules = new Rules()
                .name("trip", trip)
                .within("landed", landed, 1, MOST, "")
                .within("deadAtVessel", deadAtVessel, 0, Math.max(0, landed), "")
                .within("tagged", tagged, 0, Math.max(0, landed), "")
                .note("landingNotes", landingNotes);
        if ((long) deadAtVessel + tagged > landed) {
            rules.add("tagged", tagged + " with deadAtVessel " + deadAtVessel + " is more than landed " + landed);
        }
        long named = 0;
        for (Map.Entry<String, Integer> reason : notTagged.entrySet()) {
            rules.line("notTagged", reason.getKey()).needed("notTagged", reason.getKey());
            rules.within("notTagged", reason.getValue(), 1, MOST, "");
            named += reason.getValue();
        }
        if (named > (long) landed - deadAtVessel - tagged) {
            rules.add(
                    "notTagged",
                    named + " is more than landed " + landed + " less deadAtVessel " + deadAtVessel + " less tagged "
                            + tagged);
        }
        rules.check();
        notTagged = Collections.unmodifiableMap(new TreeMap<>(notTagged));
    }
}
