package org.aftercast.study;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.study.CaptureSheet.Entry;
import org.jspecify.annotations.Nullable;

/**
 * The rules of the package inventory: beacons that can be told apart, packages light enough, batteries that last, no
 * package on two animals at once.
 */
public final class Inventory {

    /**
     * What the rules say.
     *
     * @param refusals what must not be stored
     * @param warnings what a person should look at
     */
    public record Report(List<String> refusals, List<String> warnings) {
        public Report {
            refusals = List.copyOf(refusals);
            warnings = List.copyOf(warnings);
        }
    }

    /** Frequencies are stated to the hertz; differences below are rounding. */
    private static final double ROUNDING_KHZ = 1e-3;

    private Inventory() {}

    /**
     * Checks the study as it would be with these rows.
     *
     * @param info spacing and weight limit
     * @param store the study as it is
     * @param rows rows to be entered; they replace rows of the same animal and packages of the same serial
     */
    public static Report check(StudyInfo info, StudyStore store, List<Entry> rows) throws StudyException {
        Map<String, FloatPackage> packages = new LinkedHashMap<>();
        store.all(FloatPackage.class).forEach(p -> packages.put(fold(p.serial()), p));
        Map<String, Entry> entries = new LinkedHashMap<>();
        for (Entry entry : CaptureSheet.of(store)) {
            entries.put(fold(entry.animal().name()), entry);
        }
        for (Entry row : rows) {
            FloatPackage carried = row.floatPackage();
            if (carried != null) {
                packages.put(fold(carried.serial()), carried);
            }
            entries.put(fold(row.animal().name()), row);
        }
        List<String> refusals = new ArrayList<>(collisions(info, List.copyOf(packages.values())));
        refusals.addAll(twiceAtOnce(List.copyOf(entries.values())));
        List<String> warnings = new ArrayList<>();
        for (Entry row : rows) {
            warnings.addAll(warnings(info, row));
        }
        return new Report(refusals, warnings);
    }

    /** Pairs of beacons closer than the study's spacing; a spacing of 0 refuses nothing. */
    static List<String> collisions(StudyInfo info, List<FloatPackage> packages) {
        List<String> found = new ArrayList<>();
        for (int i = 0; i < packages.size(); i++) {
            for (int j = i + 1; j < packages.size(); j++) {
                Double a = packages.get(i).frequencyMHz();
                Double b = packages.get(j).frequencyMHz();
                if (a != null && b != null) {
                    double apartKHz = Math.abs(a - b) * 1000;
                    if (apartKHz + ROUNDING_KHZ < info.frequencySpacingKHz()) {
                        found.add(String.format(
                                Locale.ROOT,
                                "frequencyMHz: packages %s (%s MHz) and %s (%s MHz) are %.1f kHz apart; accepted: at"
                                        + " least %s kHz, so that their beacons can be told apart",
                                packages.get(i).serial(),
                                a,
                                packages.get(j).serial(),
                                b,
                                apartKHz,
                                info.frequencySpacingKHz()));
                    }
                }
            }
        }
        return found;
    }

    private static List<String> twiceAtOnce(List<Entry> entries) {
        List<String> found = new ArrayList<>();
        Map<String, List<Entry>> bySerial = new LinkedHashMap<>();
        for (Entry entry : entries) {
            Release release = entry.release();
            if (release != null && release.packageSerial() != null && release.releasedUtc() != null) {
                bySerial.computeIfAbsent(fold(release.packageSerial()), k -> new ArrayList<>())
                        .add(entry);
            }
        }
        bySerial.values().forEach(uses -> {
            for (int i = 0; i < uses.size(); i++) {
                for (int j = i + 1; j < uses.size(); j++) {
                    if (overlap(uses.get(i), uses.get(j))) {
                        found.add("packageSerial: package " + serialOf(uses.get(i)) + " would be on animals "
                                + uses.get(i).animal().name() + " and "
                                + uses.get(j).animal().name()
                                + " at once; accepted: released with the second after it came off the first"
                                + " (give detachedUtc or plannedDetachmentUtc)");
                    }
                }
            }
        });
        return found;
    }

    private static boolean overlap(Entry a, Entry b) {
        Instant aFrom = releasedUtc(a);
        Instant bFrom = releasedUtc(b);
        return aFrom.isBefore(bFrom) ? bFrom.isBefore(offUtc(a)) : aFrom.isBefore(offUtc(b));
    }

    private static Instant releasedUtc(Entry entry) {
        Release release = entry.release();
        Instant released = release == null ? null : release.releasedUtc();
        if (released == null) {
            throw new IllegalStateException("only released animals are compared");
        }
        return released;
    }

    private static Instant offUtc(Entry entry) {
        Release release = entry.release();
        Detachment detachment = entry.detachment();
        Instant planned = release == null ? null : release.plannedDetachmentUtc();
        return detachment != null ? detachment.detachedUtc() : planned != null ? planned : Instant.MAX;
    }

    private static @Nullable String serialOf(Entry entry) {
        Release release = entry.release();
        return release == null ? null : release.packageSerial();
    }

    private static List<String> warnings(StudyInfo info, Entry row) {
        List<String> found = new ArrayList<>();
        FloatPackage carried = row.floatPackage();
        Capture capture = row.capture();
        Double animalKg = capture == null ? null : capture.massKg();
        Double packageG = carried == null ? null : carried.packageMassG();
        String animal = row.animal().name();
        if (animalKg != null && packageG != null) {
            double percent = packageG / (animalKg * 1000) * 100;
            if (percent > info.packageMassLimitPercent()) {
                found.add(String.format(
                        Locale.ROOT,
                        "%s: the package weighs %.1f %% of the animal in air; the study's limit is %s %%",
                        animal,
                        percent,
                        info.packageMassLimitPercent()));
            }
        }
        if (carried != null && carried.buoyancyG() != null && carried.buoyancyG() <= 0) {
            found.add(animal + ": package " + carried.serial() + " does not float (buoyancyG " + carried.buoyancyG()
                    + "): it would not come up");
        }
        Release release = row.release();
        Instant planned = release == null ? null : release.plannedDetachmentUtc();
        Instant released = release == null ? null : release.releasedUtc();
        if (carried != null && carried.batteryH() != null && planned != null && released != null) {
            double plannedH = Duration.between(released, planned).toMillis() / 3.6e6;
            if (plannedH >= carried.batteryH()) {
                found.add(String.format(
                        Locale.ROOT,
                        "%s: the beacon's battery lasts %s h but the package stays on for %.1f h: nothing is left to"
                                + " find it by",
                        animal,
                        carried.batteryH(),
                        plannedH));
            }
        }
        return found;
    }

    private static String fold(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
