package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.fate.AnimalFate;
import org.aftercast.sim.Course;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.Scenario.Breathing;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.ControlAnimals;
import org.aftercast.study.Fishery;
import org.jspecify.annotations.Nullable;

/**
 * The demo's animals. All invented: starry smooth-hounds from charter boats in Cardigan Bay; no real animal, person,
 * vessel or day. Lengths, beats and depths are plausible, not measured.
 */
final class DemoCast {

    /** Acceleration samples a second of the demo's loggers: about twelve to a beat, and files that stay small. */
    static final double RATE_HZ = 12.5;

    /** When the invented study was planned. */
    static final Instant PLANNED = Instant.parse("2025-04-02T09:00:00Z");

    private static final Instant FIRST_DAY = Instant.parse("2025-06-17T00:00:00Z");
    private static final double DECK_MIN = 5;

    private DemoCast() {}

    /** What was expected and wanted, invented: 15 % dead, ± 15 points, half of the deaths within 6 h. */
    static PlanQuestion plan() {
        return new PlanQuestion(
                0.15, 0.15, null, null, 0.8, 0.9, 0.05, 0.9, 4, 0.05, 18, 6.0, BinomialInterval.CLOPPER_PEARSON, 0.95);
    }

    /** Invented control animals. */
    static ControlAnimals controls() {
        return new ControlAnimals(
                ControlAnimals.ID, 12, 1, "Invented: from the aquarium's tank, carried the package for 18 h.");
    }

    /** An invented fishery. */
    static Fishery fishery() {
        return new Fishery(
                Fishery.ID,
                "hookLocation",
                Map.of("jaw", 0.72, "mouth", 0.17, "throat", 0.04, "gills", 0.02, "gut", 0.05),
                300,
                1800.0,
                1500.0,
                2200.0,
                "invented charter boats of the bay, one season");
    }

    /** What became of the package. */
    enum Whereabouts {
        RETRIEVED,
        ABANDONED,
        ADRIFT
    }

    /**
     * One animal.
     *
     * @param name in the study
     * @param cells its row of the capture table
     * @param scenario what its logger recorded
     * @param seed for the simulator
     * @param fate what became of the package: only a retrieved one gives a download
     * @param releasedUtc when it was let go
     * @param plannedDetachUtc when the package was to come off
     */
    record Animal(
            String name,
            Map<String, String> cells,
            Scenario scenario,
            long seed,
            Whereabouts fate,
            Instant releasedUtc,
            Instant plannedDetachUtc) {}

    /**
     * What an invented reader said.
     *
     * @param animal which
     * @param reader code
     * @param fate their decision
     * @param changeUtc when, or null
     * @param reason why
     * @param settling whether it is the reader's own or settles two that differ
     */
    record Opinion(
            String animal,
            String reader,
            AnimalFate fate,
            @Nullable Instant changeUtc,
            String reason,
            Settles settling) {

        boolean settles() {
            return settling == Settles.BOTH;
        }
    }

    /** Whether a verdict is a reader's own or settles both. */
    enum Settles {
        OWN,
        BOTH
    }

    /** The verdicts on these animals, in the order in which they are given. */
    static List<Opinion> opinions(List<Animal> cast) {
        return all().stream()
                .filter(opinion ->
                        cast.stream().anyMatch(animal -> animal.name().equals(opinion.animal())))
                .toList();
    }

    private static List<Opinion> all() {
        List<Animal> cast = animals();
        return List.of(
                own(cast, 1, "reader-a", AnimalFate.ALIVE_AT_END, null, "Swims to the end."),
                own(cast, 5, "reader-a", AnimalFate.DIED, 0.0, "Sank from the release and never moved."),
                own(cast, 5, "reader-b", AnimalFate.DIED, 0.0, "No beat after the release, lies on its back."),
                own(cast, 7, "reader-a", AnimalFate.EATEN, 13.4, "Warm as a seal and diving again after the attack."),
                own(cast, 7, "reader-b", AnimalFate.EATEN, 13.4, "Temperature leaves the water's at once."),
                own(cast, 10, "reader-a", AnimalFate.DIED, 6.3, "Weakens, sinks, lies still to the end."),
                own(cast, 13, "reader-a", AnimalFate.DIED, 0.05, "Went limp on the way down and never beat again."),
                own(cast, 16, "reader-a", AnimalFate.UNDECIDED, null, "Lies upright; could be resting."),
                own(cast, 16, "reader-b", AnimalFate.DIED, 11.5, "No gill movement in the last hours."),
                new Opinion(
                        name(16),
                        "reader-a",
                        AnimalFate.UNDECIDED,
                        null,
                        "Both looked again: the gill movement would be too weak to see either way.",
                        Settles.BOTH));
    }

    private static Opinion own(
            List<Animal> cast, int number, String reader, AnimalFate fate, @Nullable Double changeH, String reason) {
        Instant released = cast.get(number - 1).releasedUtc();
        Instant change = changeH == null ? null : released.plusSeconds(Math.round(changeH * 3600));
        return new Opinion(name(number), reader, fate, change, reason, Settles.OWN);
    }

    /** One line of the cast. */
    private record Part(
            int number,
            int trip,
            String sex,
            double lengthM,
            String hook,
            String bleeding,
            int fightMin,
            int airS,
            Course course,
            double changeH,
            double t80H,
            Whereabouts fate) {}

    private static final List<Part> PARTS = List.of(
            part(1, 1, "female", 1.08, "jaw", "none", 8, 35, Course.SURVIVES, 0, 2.6),
            part(2, 1, "male", 0.98, "jaw", "none", 4, 20, Course.SURVIVES, 0, 0),
            part(3, 1, "female", 1.16, "mouth", "slight", 14, 50, Course.SURVIVES, 0, 4.8),
            part(4, 1, "male", 0.97, "jaw", "none", 3, 30, Course.SURVIVES, 0, 1.4),
            part(5, 2, "female", 1.22, "gut", "heavy", 35, 120, Course.DIES_AT_ONCE, 0, 0),
            part(6, 2, "male", 1.02, "jaw", "none", 6, 25, Course.SURVIVES, 0, 1.9),
            part(7, 2, "female", 1.14, "throat", "slight", 22, 75, Course.SWALLOWED_BY_WARM, 13.4, 7.5),
            part(8, 2, "female", 1.05, "mouth", "none", 10, 40, Course.SHED_EARLY, 9.2, 3.1),
            part(9, 3, "male", 1.00, "jaw", "none", 5, 20, Course.SURVIVES, 0, 2.0),
            part(10, 3, "female", 1.24, "gills", "heavy", 28, 90, Course.DIES_LATE, 6.3, 12),
            part(11, 3, "female", 1.07, "jaw", "none", 9, 35, Course.SURVIVES, 0, 3.4),
            part(12, 3, "male", 0.96, "jaw", "none", 2, 15, Course.SURVIVES, 0, 0),
            part(13, 4, "female", 1.19, "gut", "heavy", 31, 110, Course.DIES_ON_THE_WAY_DOWN, 0, 0),
            part(14, 4, "male", 1.01, "jaw", "none", 7, 30, Course.SURVIVES, 0, 2.2),
            part(15, 4, "female", 1.12, "mouth", "slight", 18, 60, Course.SURVIVES, 0, 8.8),
            part(16, 4, "female", 1.03, "jaw", "none", 11, 45, Course.DIES_LATE, 11.5, 4),
            part(17, 5, "male", 0.99, "jaw", "none", 4, 25, Course.SURVIVES, 0, 1.5),
            part(18, 5, "female", 1.06, "mouth", "none", 13, 50, Course.SWALLOWED_BY_COLD, 8.1, 4.4),
            part(19, 5, "female", 1.20, "jaw", "slight", 24, 65, Course.SURVIVES, 0, 30),
            lost(20, 5, "male", 1.01, 6, 25, Whereabouts.ABANDONED),
            part(21, 6, "female", 1.13, "gut", "heavy", 26, 95, Course.DIES_THEN_SCAVENGED, 2.8, 9),
            part(22, 6, "male", 1.02, "jaw", "none", 5, 20, Course.SURVIVES, 0, 2.1),
            part(23, 6, "female", 1.04, "mouth", "none", 12, 40, Course.SURVIVES, 0, 3.9),
            lost(24, 6, "female", 1.15, 16, 55, Whereabouts.ADRIFT));

    private static Part part(
            int number,
            int trip,
            String sex,
            double lengthM,
            String hook,
            String bleeding,
            int fightMin,
            int airS,
            Course course,
            double changeH,
            double t80H) {
        return new Part(
                number,
                trip,
                sex,
                lengthM,
                hook,
                bleeding,
                fightMin,
                airS,
                course,
                changeH,
                t80H,
                Whereabouts.RETRIEVED);
    }

    private static Part lost(
            int number, int trip, String sex, double lengthM, int fightMin, int airS, Whereabouts fate) {
        return new Part(number, trip, sex, lengthM, "jaw", "none", fightMin, airS, Course.SURVIVES, 0, 3, fate);
    }

    /** The whole cast, in order of release. */
    static List<Animal> animals() {
        List<Animal> animals = new ArrayList<>();
        int onTrip = 0;
        int trip = 0;
        for (Part part : PARTS) {
            onTrip = part.trip() == trip ? onTrip + 1 : 0;
            trip = part.trip();
            animals.add(animal(part, onTrip));
        }
        return animals;
    }

    private static Animal animal(Part part, int onTrip) {
        SplittableRandom random = new SplittableRandom(7_000 + part.number());
        Instant released = FIRST_DAY
                .plus(Duration.ofDays(3L * (part.trip() - 1)))
                .plus(Duration.ofMinutes(8 * 60 + 20 + 70L * onTrip + random.nextInt(20)))
                .plusSeconds(random.nextInt(60));
        double detachH = 19 + random.nextDouble();
        Instant planned = released.plusSeconds(Math.round(detachH * 3600 / 60) * 60);
        double plannedH = Duration.between(released, planned).toSeconds() / 3600.0;
        double bottomM = 17 + 15 * random.nextDouble();
        Scenario scenario = scenario(part, random, released, plannedH, bottomM);
        double latDeg = 52.34 + 0.05 * part.trip() + 0.02 * random.nextDouble();
        double lonDeg = -4.52 + 0.03 * (part.trip() % 3) + 0.02 * random.nextDouble();
        Map<String, String> cells = cells(part, released, planned, bottomM, latDeg, lonDeg, random);
        return new Animal(name(part.number()), cells, scenario, 4_000 + part.number(), part.fate(), released, planned);
    }

    private static String name(int number) {
        return String.format(Locale.ROOT, "SH-%02d", number);
    }

    private static Scenario scenario(
            Part part, SplittableRandom random, Instant released, double detachH, double bottomM) {
        Scenario base = Scenario.bottomRester();
        boolean stopsEarly = part.number() == 22; // its logger ran out before the package came off
        double durationH = DECK_MIN / 60 + (stopsEarly ? detachH - 2.5 : detachH + 0.6 + 0.4 * random.nextDouble());
        double hz = 1.05 / part.lengthM() * (0.92 + 0.16 * random.nextDouble());
        double placeM = (0.018 + 0.012 * random.nextDouble()) * part.lengthM();
        double swayG = Math.pow(2 * Math.PI * hz, 2) * placeM / 9.80665;
        double rough = Math.min(1, part.fightMin() / 30.0);
        Scenario.Body b = base.body();
        Scenario.Logger l = base.logger();
        boolean undecided = part.number() == 16;
        return new Scenario(
                "demo " + name(part.number()),
                released.minusSeconds(Math.round(DECK_MIN * 60)),
                new Scenario.Logger(
                        RATE_HZ, durationH, 1, l.channels(), 0.004, 0.001, 8, 0.04, 0.02, 0.01, 0.02, 10, 0, 0, 10),
                new Scenario.Body(
                        part.lengthM(),
                        Breathing.CAN_REST,
                        hz,
                        swayG,
                        0.05,
                        900,
                        0.03,
                        0.05,
                        0.07,
                        0.25,
                        0.6 * part.lengthM(),
                        0.65 + 0.2 * random.nextDouble(),
                        0.005),
                new Scenario.Habits(
                        0.15 + 0.25 * random.nextDouble(),
                        14 + 14 * random.nextDouble(),
                        0.4,
                        3,
                        30,
                        6 + 14 * random.nextDouble(),
                        2.4,
                        5,
                        4,
                        14,
                        0.45,
                        1,
                        2.5,
                        0.04),
                new Scenario.Sea(
                        bottomM,
                        1.7,
                        0.3 + 0.5 * random.nextDouble(),
                        4.5 + 1.5 * random.nextDouble(),
                        14.6 + 0.15 * part.trip(),
                        12.9 + 0.1 * part.trip(),
                        0.5 * bottomM,
                        3),
                new Scenario.Mount(
                        -12 + 24 * random.nextDouble(),
                        -10 + 20 * random.nextDouble(),
                        -10 + 20 * random.nextDouble(),
                        part.number() == 15 ? 8.0 : null,
                        0,
                        22,
                        6,
                        62 + 10 * random.nextDouble(),
                        -10 + 20 * random.nextDouble()),
                new Scenario.Handling(DECK_MIN, 16.5, 0.4 + 2.4 * rough, 0.45, 8 + 8 * random.nextDouble()),
                b.lengthM() > 0 && part.t80H() > 0
                        ? new Scenario.Recovery(
                                Scenario.Recovery.Shape.EXPONENTIAL,
                                part.t80H(),
                                1.3 + 0.35 * rough,
                                1.1 + 0.2 * rough,
                                1.5)
                        : null,
                new Scenario.Ending(
                        part.course(),
                        part.changeH(),
                        detachH,
                        part.course() == Course.DIES_LATE ? 40 : 0,
                        6,
                        undecided ? 9 : 168,
                        0.22,
                        0.8,
                        1.6,
                        0.52,
                        0.05,
                        36,
                        14,
                        1000));
    }

    private static Map<String, String> cells(
            Part part,
            Instant released,
            Instant planned,
            double bottomM,
            double latDeg,
            double lonDeg,
            SplittableRandom random) {
        Map<String, String> row = new LinkedHashMap<>();
        row.put("animal", name(part.number()));
        row.put("species", "Mustelus asterias (invented animals)");
        row.put("group", part.fightMin() >= 15 ? "long fight" : "short fight");
        row.put("trip", "trip " + part.trip());
        row.put("vessel", "invented charter boat " + (part.trip() % 2 == 1 ? "A" : "B"));
        row.put("anglerCode", "angler-" + (1 + random.nextInt(9)));
        row.put("handlerCode", "handler-" + (1 + part.trip() % 2));
        row.put("gear", "bottom ledger, crab");
        row.put("hookType", part.number() % 3 == 0 ? "j-hook" : "circle");
        row.put("hookLocation", part.hook());
        row.put("hookLeft", part.hook().equals("gut") ? "left-in" : "taken-out");
        row.put("bleeding", part.bleeding());
        long handledS = Math.round(DECK_MIN * 60) + 20;
        row.put(
                "hookedUtc",
                released.minusSeconds(handledS + 60L * part.fightMin()).toString());
        row.put("fightMin", Integer.toString(part.fightMin()));
        row.put("airExposureS", Integer.toString(part.airS()));
        row.put("captureDepthM", number(bottomM, 0));
        row.put("barotrauma", "does-not-apply");
        row.put("lengthM", number(part.lengthM(), 2));
        row.put("massKg", number(3.2 * Math.pow(part.lengthM(), 3.1), 1));
        row.put("sex", part.sex());
        row.put("reflexesTested", "5");
        row.put("reflexesMissing", Integer.toString(Math.min(4, part.fightMin() / 10)));
        row.put(
                "injuryScore",
                part.bleeding().equals("heavy") ? "3" : part.bleeding().equals("slight") ? "1" : "0");
        row.put("waterTempC", number(14.6 + 0.15 * part.trip(), 1));
        row.put("captureLatDeg", number(latDeg, 4));
        row.put("captureLonDeg", number(lonDeg, 4));
        row.put("packageSerial", String.format(Locale.ROOT, "demo-%02d", part.number()));
        row.put("frequencyMHz", number(150 + 0.02 * part.number(), 3));
        row.put("pingsPerMin", "60");
        row.put("batteryH", "240");
        row.put("releaseMechanism", "corroding link, invented");
        row.put("packageMassG", "52");
        row.put("buoyancyG", "18");
        row.put("releasedUtc", released.toString());
        row.put("releaseLatDeg", number(latDeg + 0.002, 4));
        row.put("releaseLonDeg", number(lonDeg + 0.002, 4));
        row.put("releaseState", releaseState(part));
        row.put("plannedDetachmentUtc", planned.toString());
        search(part, planned, latDeg, lonDeg, random, row);
        return row;
    }

    private static String releaseState(Part part) {
        return switch (part.course()) {
            case DIES_AT_ONCE -> "sank";
            case DIES_ON_THE_WAY_DOWN -> "swam-off-weakly";
            default -> part.fightMin() >= 18 ? "swam-off-weakly" : "swam-off";
        };
    }

    private static void search(
            Part part,
            Instant planned,
            double latDeg,
            double lonDeg,
            SplittableRandom random,
            Map<String, String> row) {
        if (part.fate() == Whereabouts.ADRIFT) {
            return;
        }
        Instant ended = planned.plus(Duration.ofMinutes(150 + random.nextInt(200)));
        row.put("searchEndedUtc", ended.toString());
        row.put("searchOutcome", part.fate() == Whereabouts.ABANDONED ? "abandoned" : "retrieved");
        if (part.fate() == Whereabouts.RETRIEVED) {
            row.put("foundLatDeg", number(latDeg + 0.02 + 0.04 * random.nextDouble(), 4));
            row.put("foundLonDeg", number(lonDeg + 0.03 + 0.03 * random.nextDouble(), 4));
            row.put(
                    "packageCondition",
                    part.course() == Course.SWALLOWED_BY_WARM ? "tooth marks on the float" : "clean");
        }
    }

    private static String number(double value, int decimals) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    /** The capture table as CSV text: every column that any animal fills. */
    static String captures(List<Animal> animals) {
        List<String> columns = new ArrayList<>();
        for (Animal animal : animals) {
            for (String column : animal.cells().keySet()) {
                if (!columns.contains(column)) {
                    columns.add(column);
                }
            }
        }
        StringBuilder text = new StringBuilder(String.join(",", columns)).append('\n');
        for (Animal animal : animals) {
            List<String> cells = new ArrayList<>();
            for (String column : columns) {
                String cell = cell(animal.cells().get(column));
                cells.add(cell);
            }
            text.append(String.join(",", cells)).append('\n');
        }
        return text.toString();
    }

    /** What was landed on each trip: those tagged, one dead at the vessel on every third trip, some let go without a package. */
    static String landings(List<Animal> animals) {
        Map<String, Integer> tagged = new LinkedHashMap<>();
        for (Animal animal : animals) {
            tagged.merge(String.valueOf(animal.cells().get("trip")), 1, Integer::sum);
        }
        StringBuilder text = new StringBuilder("trip,landed,deadAtVessel,tagged,notTagged\n");
        int trip = 0;
        for (Map.Entry<String, Integer> one : tagged.entrySet()) {
            int dead = trip % 3 == 2 ? 1 : 0;
            int small = 1 + trip % 4;
            int spare = trip % 2;
            trip++;
            text.append(one.getKey())
                    .append(',')
                    .append(one.getValue() + dead + small + spare)
                    .append(',')
                    .append(dead)
                    .append(',')
                    .append(one.getValue())
                    .append(",too small for the package: ")
                    .append(small)
                    .append(spare > 0 ? "; no package left: " + spare : "")
                    .append('\n');
        }
        return text.toString();
    }

    private static String cell(@Nullable String value) {
        if (value == null) {
            return "";
        }
        return value.contains(",") ? '"' + value + '"' : value;
    }
}
