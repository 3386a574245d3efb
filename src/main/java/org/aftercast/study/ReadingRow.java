package org.aftercast.study;

import java.time.Instant;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/**
 * One reading: everything computed from one recording with one set of settings by one version.
 *
 * @param key cache key: SHA-256 over recording, settings and version, see {@link #keyOf}
 * @param recordingSha256 the recording read
 * @param settingsSha256 SHA-256 of the settings as serialised
 * @param softwareVersion the version that read it
 * @param folder folder in {@code readings/}
 * @param files SHA-256 of each file in the folder, by file name
 * @param readUtc when it was read
 * @param animalFate the machine's opinion on the animal, or null when the reading has none
 * @param recordEnd the machine's opinion on the record's end, or null
 * @param probabilities the machine's probabilities, or null
 * @param atRiskH hours from the animal's release to its death or to the last certain sign of life, or null
 */
public record ReadingRow(
        String key,
        String recordingSha256,
        String settingsSha256,
        String softwareVersion,
        String folder,
        Map<String, String> files,
        Instant readUtc,
        @Nullable AnimalFate animalFate,
        @Nullable RecordEnd recordEnd,
        @Nullable FateProbabilities probabilities,
        @Nullable Double atRiskH) {

    public ReadingRow {
        Rules rules = new Rules()
                .sha256("key", key)
                .sha256("recordingSha256", recordingSha256)
                .sha256("settingsSha256", settingsSha256)
                .needed("softwareVersion", softwareVersion)
                .fileName("folder", folder)
                .needed("readUtc", readUtc)
                .within("atRiskH", atRiskH, 0, 100_000, "h");
        files.forEach((name, sha) -> rules.fileName("files", name).sha256("files", sha));
        rules.check();
        files = java.util.Collections.unmodifiableMap(new TreeMap<>(files));
        readUtc = java.util.Objects.requireNonNull(Rules.toMs(readUtc));
    }

    /** The cache key: SHA-256 over the three, each on its own line. */
    public static String keyOf(String recordingSha256, String settingsSha256, String softwareVersion) {
        return Hashes.ofText(recordingSha256 + "\n" + settingsSha256 + "\n" + softwareVersion + "\n");
    }
}
