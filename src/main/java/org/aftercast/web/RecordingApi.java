package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import org.aftercast.behaviour.BehaviourReading;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.Event;
import org.aftercast.behaviour.Recovery;
import org.aftercast.geo.Position;
import org.aftercast.geo.Sun;
import org.aftercast.recording.Flag;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.aftercast.study.Mark;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.Blindness;
import org.aftercast.voyage.Judge;
import org.aftercast.voyage.ReadStudy;
import org.aftercast.voyage.Reading;
import org.aftercast.voyage.Settings;
import org.jspecify.annotations.Nullable;

/** One animal's recording: what it holds, windows of it, marks on it, and reading it. */
final class RecordingApi {

    private static final int MOST_COLUMNS = 8000;
    private static final double SUN_STEP_S = 300;
    /** Upper rim on the horizon with standard refraction. */
    private static final double SUNSET_ZENITH_DEG = 90.833;

    private final Desk desk;
    private final Gate gate;
    private final RecordingShelf shelf;

    RecordingApi(Desk desk, Gate gate, RecordingShelf shelf) {
        this.desk = desk;
        this.gate = gate;
        this.shelf = shelf;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/animals/{animal}/recording", Role.VIEW, this::recording),
                new Route("GET", "/api/animals/{animal}/window", Role.VIEW, this::window),
                new Route("POST", "/api/animals/{animal}/read", Role.RECORD, this::read),
                new Route("POST", "/api/animals/{animal}/look", Role.RECORD, this::look),
                new Route("POST", "/api/animals/{animal}/marks", Role.RECORD, this::mark));
    }

    /** A stretch of time. */
    record Stretch(double startS, double endS) {}

    /** Something noticed while loading. */
    record Noted(
            String kind, @Nullable Double startS, @Nullable Double endS, String note) {}

    private void recording(Context ctx) throws Exception {
        OpenRecording open = shelf.open(ctx.pathParam("animal"));
        String who = Desk.whoOrNull(ctx, gate.device(ctx));
        Recording recording = open.recording();
        SampleClock clock = recording.clock();
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("animal", open.animal());
        answer.put("key", open.key());
        answer.put("sha256", recording.sourceSha256());
        answer.put("startUtc", clock.startUtc());
        answer.put("durationS", recording.durationS());
        answer.put("sampleRateHz", clock.sampleRateHz());
        answer.put("sampleCount", recording.samples().sampleCount());
        answer.put(
                "tracks", open.tracks().stream().map(OpenRecording.Track::name).toList());
        answer.put(
                "gaps",
                recording.gaps().stream()
                        .map(g -> new Stretch(clock.secondsAt(g.fromSample()), clock.secondsAt(g.toSample())))
                        .toList());
        answer.put("flags", recording.flags().stream().map(f -> noted(f, clock)).toList());
        desk.look(store -> {
            answer.put("nights", nights(store, open));
            answer.put("marks", Blindness.marks(store, open.animal(), recording.sourceSha256(), who));
            return 0;
        });
        boolean blind = desk.look(store -> Blindness.isBlind(store, open.animal(), who));
        answer.put("sight", blind ? Judge.Sight.BLIND : Judge.Sight.OPEN);
        answer.put(
                "reading", open.reading() == null ? null : blind ? measures(open.reading()) : reading(open.reading()));
        Json.answer(ctx, answer);
    }

    private static Noted noted(Flag flag, SampleClock clock) {
        SampleRange where = flag.where();
        return new Noted(
                flag.kind().name().toLowerCase(Locale.ROOT).replace('_', '-'),
                where == null ? null : clock.secondsAt(where.fromSample()),
                where == null ? null : clock.secondsAt(where.toSample()),
                flag.note());
    }

    /**
     * What a reader who is still to judge may see: when the record begins to count, and measures. Bursts and surfacings are
     * measures of the signal; bouts, attacks, detachment and recovery are what the program makes of them, and are null or
     * left out.
     */
    private static Map<String, @Nullable Object> measures(Reading reading) {
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("softwareVersion", reading.softwareVersion());
        answer.put("release", reading.behaviour().release());
        answer.put("detachment", null);
        answer.put("bouts", null);
        answer.put("events", events(reading, event -> event.kind() != Event.Kind.PREDATOR_ATTACK));
        answer.put("recovery", null);
        answer.put("beatCount", reading.beats().count());
        answer.put("beatRefusal", reading.motion().beatRefusal());
        answer.put("notes", reading.motion().notes());
        return answer;
    }

    private static List<Map<String, Object>> events(Reading reading, Predicate<Event> shown) {
        return reading.behaviour().events().stream()
                .filter(shown)
                .map(e -> Map.<String, Object>of(
                        "kind", e.kind().word(),
                        "atS", e.atS(),
                        "durationS", e.durationS(),
                        "size", e.size()))
                .toList();
    }

    /** What the animal did, for those who have judged; not how it ended. */
    private static Map<String, @Nullable Object> reading(Reading reading) {
        BehaviourReading behaviour = reading.behaviour();
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put("softwareVersion", reading.softwareVersion());
        answer.put("release", behaviour.release());
        answer.put("detachment", behaviour.detachment());
        answer.put(
                "bouts",
                behaviour.bouts().stream()
                        .map(b -> Map.of(
                                "kind", b.kind().word(),
                                "startS", b.startS(),
                                "endS", b.endS(),
                                "probability", b.probability()))
                        .toList());
        answer.put("events", events(reading, event -> true));
        double wrong = behaviour.falseBurstsPerDay();
        answer.put("falseBurstsPerDay", Double.isNaN(wrong) ? null : wrong);
        Recovery headline = behaviour.recovery().headline();
        Map<String, @Nullable Object> recovery = new LinkedHashMap<>();
        recovery.put("status", headline.status());
        recovery.put("measure", headline.measure().word());
        recovery.put("recoveredH", headline.recoveredH());
        recovery.put("lowH", headline.lowH());
        recovery.put("highH", headline.highH());
        recovery.put("sentence", headline.sentence());
        recovery.put("statement", behaviour.recovery().statement());
        answer.put("recovery", recovery);
        answer.put("beatCount", reading.beats().count());
        answer.put("beatRefusal", reading.motion().beatRefusal());
        List<String> notes = new ArrayList<>(reading.motion().notes());
        notes.addAll(behaviour.notes());
        answer.put("notes", notes);
        return answer;
    }

    private static List<Stretch> nights(StudyStore store, OpenRecording open) throws Exception {
        Instant start = open.recording().clock().startUtc();
        StudyInfo info = store.info();
        Release release = store.find(Release.class, open.animal()).orElse(null);
        Double lat = release != null && release.releaseLatDeg() != null ? release.releaseLatDeg() : info.latDeg();
        Double lon = release != null && release.releaseLonDeg() != null ? release.releaseLonDeg() : info.lonDeg();
        if (start == null || lat == null || lon == null) {
            return List.of();
        }
        Position place = new Position(lat, lon);
        List<Stretch> nights = new ArrayList<>();
        double duration = open.recording().durationS();
        double since = -1;
        for (double s = 0; s <= duration + SUN_STEP_S; s += SUN_STEP_S) {
            Instant at = start.plusMillis((long) (s * 1000));
            boolean dark = s <= duration && Sun.at(at, place, 0, 1013.25, 12).zenithDeg() > SUNSET_ZENITH_DEG;
            if (dark && since < 0) {
                since = s;
            } else if (!dark && since >= 0) {
                nights.add(new Stretch(since, Math.min(s, duration)));
                since = -1;
            }
        }
        return nights;
    }

    private void window(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String key = ctx.queryParam("key");
        OpenRecording open = key == null ? null : shelf.opened(animal, key);
        if (open == null) {
            open = shelf.open(animal);
        }
        double duration = open.recording().durationS();
        double fromS = number(ctx, "fromS", 0, duration);
        double toS = number(ctx, "toS", 0, duration);
        double columns = number(ctx, "columns", 1, MOST_COLUMNS);
        if (!(toS > fromS)) {
            throw ApiException.badInput("toS: " + toS + " does not lie after fromS " + fromS);
        }
        String series = ctx.queryParam("series");
        Set<String> wanted =
                series == null || series.isBlank() ? Set.of() : new LinkedHashSet<>(List.of(series.split(",")));
        byte[] json = new Window(open, fromS, toS, (int) columns).json(wanted);
        ctx.contentType("application/json").result(json);
    }

    private static double number(Context ctx, String name, double low, double high) throws ApiException {
        String text = ctx.queryParam(name);
        try {
            double value = Double.parseDouble(String.valueOf(text));
            if (value >= low && value <= high) {
                return value;
            }
        } catch (NumberFormatException notANumber) {
            // told below
        }
        throw ApiException.badInput(name + ": " + text + " is not a number from " + low + " to " + high);
    }

    private void read(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        List<ReadStudy.OfAnimal> read = desk.write(() -> {
            try (StudyStore store =
                    StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                return new ReadStudy(store, desk.clock())
                        .read(who, List.of(animal), Settings.defaults(), (name, done, total, kept) -> {});
            }
        });
        Json.answer(
                ctx,
                Map.of(
                        "animal",
                        animal,
                        "readings",
                        read.stream().map(r -> r.row().key()).toList()));
    }

    private void look(Context ctx) throws Exception {
        String animal = ctx.pathParam("animal");
        String who = Desk.who(ctx, gate.device(ctx));
        desk.write(() -> {
            try (StudyStore store =
                    StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                Blindness.look(store, animal, who);
                return 0;
            }
        });
        Json.answer(ctx, Map.of("animal", animal, "who", who));
    }

    private void mark(Context ctx) throws Exception {
        OpenRecording open = shelf.open(ctx.pathParam("animal"));
        JsonNode body = Json.body(ctx);
        String who = Desk.who(ctx, gate.device(ctx));
        String sha = open.recording().sourceSha256();
        String kindWord = body.path("kind").asText("");
        BoutKind kind = null;
        if (!kindWord.isEmpty()) {
            for (BoutKind value : BoutKind.values()) {
                if (value.word().equals(kindWord)) {
                    kind = value;
                }
            }
            if (kind == null) {
                throw ApiException.badInput("kind: \"" + kindWord + "\" is no kind of bout");
            }
        }
        String remark = body.path("remark").asText("").strip();
        BoutKind chosen = kind;
        double startS = body.path("startS").asDouble(Double.NaN);
        double endS = body.path("endS").asDouble(Double.NaN);
        Mark mark = desk.write(() -> {
            try (StudyStore store =
                    StudyStore.open(desk.folder(), StudyStore.Access.WRITE, desk.files(), desk.clock())) {
                return store.change(who, change -> {
                    int number = change.all(Mark.class).stream()
                                    .filter(m -> m.recordingSha256().equals(sha))
                                    .mapToInt(Mark::number)
                                    .max()
                                    .orElse(0)
                            + 1;
                    Mark made = new Mark(sha, number, startS, endS, chosen, remark.isEmpty() ? null : remark);
                    change.add(made);
                    return made;
                });
            }
        });
        Json.answer(ctx, mark);
    }
}
