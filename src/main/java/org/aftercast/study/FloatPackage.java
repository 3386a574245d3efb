package org.aftercast.study;

import org.jspecify.annotations.Nullable;

/**
 * The float with logger and beacon. A package can be used again on another animal.
 *
 * @param serial its serial number or name, unique
 * @param frequencyMHz beacon frequency in MHz, 1–3000, or null
 * @param pingsPerMin beacon pulses per minute, 1–600, or null
 * @param batteryH expected life of the beacon's battery in hours from switching on, 1–100 000, or null
 * @param releaseMechanism how it comes off, in words, or null
 * @param packageMassG mass in air in grams, 0.1–20 000, or null
 * @param buoyancyG lift in sea water in grams-force, −5000 to 5000, positive when it floats, or null
 * @param packageNotes free text, or null
 */
public record FloatPackage(
        String serial,
        @Nullable Double frequencyMHz,
        @Nullable Double pingsPerMin,
        @Nullable Double batteryH,
        @Nullable String releaseMechanism,
        @Nullable Double packageMassG,
        @Nullable Double buoyancyG,
        @Nullable String packageNotes) {

    public FloatPackage {
        new Rules()
                .name("packageSerial", serial)
                .within("frequencyMHz", frequencyMHz, 1, 3000, "MHz")
                .within("pingsPerMin", pingsPerMin, 1, 600, "per minute")
                .within("batteryH", batteryH, 1, 100_000, "h")
                .line("releaseMechanism", releaseMechanism)
                .within("packageMassG", packageMassG, 0.1, 20_000, "g")
                .within("buoyancyG", buoyancyG, -5000, 5000, "g")
                .note("packageNotes", packageNotes)
                .check();
    }
}
