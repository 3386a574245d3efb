package org.aftercast.voyage;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.aftercast.behaviour.SunTimes;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.DeathRule;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.fate.RecordEnd;
import org.aftercast.intake.NumberTable;
import org.aftercast.motion.SecondTable;
import org.aftercast.report.AnimalSection;
import org.aftercast.report.AnimalSection.CaptureFacts;
import org.aftercast.report.AnimalSection.Stage;
import org.aftercast.report.DataBundle;
import org.aftercast.report.EstimateSection;
import org.aftercast.report.FigureSet;
import org.aftercast.report.PlanSection;
import org.aftercast.report.Shelf;
import org.aftercast.report.Span;
import org.aftercast.report.StudyDocument;
import org.aftercast.report.StudyReport;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.FileStore;
import org.aftercast.study.FloatPackage;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.RawFile;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Writes the report of a study into its {@code reports} folder: HTML, PDF, figures, open data. Reads the study and its
 * stored readings; computes nothing anew but the estimate, and changes nothing else. The same study and settings give the
 * same files, byte for byte.
 */
public final class ReportStudy {

    /** What can be written. */
    public enum Product {
        HTML,
        PDF,
        FIGURES,
        DATA
    }

    /**
     * What is wanted.
     *
     * @param products at least one
     * @param choices from what the study has declared to the choices of the estimate, or null: as declared
     * @param authors for the citation; may be empty
     * @param licence of the data as an SPDX identifier, or null
     * @param scientificName Latin name for data exchange, or null: the study's species where it begins with one
     * @param plates whether plates come as PNG too
     */
    public record Request(
            Set<Product> products,
            @Nullable UnaryOperator<EstimateSettings> choices,
            List<String> authors,
            @Nullable String licence,
            @Nullable String scientificName,
            FigureSet.PlateImages plates) {

        public Request {
            products = Set.copyOf(products);
            authors = List.copyOf(authors);
            if (products.isEmpty()) {
                throw new IllegalArgumentException("products: at least one is needed");
            }
        }

        /** Everything, as declared in the study. */
        public static Request everything() {
            return new Request(
                    EnumSet.allOf(Product.class), null, List.of(), null, null, FigureSet.PlateImages.VECTOR_ONLY);
        }
    }

    /**
     * What was written.
     *
     * @param report the values behind it
     * @param files in order of writing
     */
    public record Written(StudyReport report, List<Path> files) {}

    private static final ObjectMapper MAPPER = new ObjectMapper();

    private final FileStore files;
    private final InstantSource clock;

    /** Writes through this store. */
    public ReportStudy(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * Reads the study and writes the report.
     *
     * @throws BadInputException if a column is named that the study does not have
     * @throws IOException if the study cannot be read or a file not be written
     */
    public Written write(Path folder, Request request) throws BadInputException, IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, files, clock)) {
            Gathered gathered = gather(store, request);
            StudyReport report = gathered.report();
            List<Path> written = new ArrayList<>();
            Path reports = store.reportsFolder();
            files.makeFolder(reports);
            if (request.products().contains(Product.HTML)) {
                Path target = reports.resolve("report.html");
                files.write(target, StudyDocument.html(report).getBytes(StandardCharsets.UTF_8));
                written.add(target);
            }
            if (request.products().contains(Product.PDF)) {
                Path target = reports.resolve("report.pdf");
                files.write(target, aside -> stream(aside, out -> StudyDocument.pdf(report, out)));
                written.add(target);
            }
            if (request.products().contains(Product.FIGURES)) {
                Path figures = reports.resolve("figures");
                FigureSet.write(report, request.plates(), shelf(figures));
                written.add(figures);
            }
            if (request.products().contains(Product.DATA)) {
                Path data = reports.resolve("data");
                Set<String> stale = VerifyBundle.described(data);
                Shelf shelf = (path, content) -> {
                    shelf(data).put(path, content);
                    stale.remove(path);
                };
                DataBundle.write(report, others(gathered), shelf);
                for (Map.Entry<String, String> copy :
                        DataBundle.parquetFiles(report).entrySet()) {
                    Path from = store.folder().resolve(copy.getKey());
                    shelf.put(copy.getValue(), out -> Files.copy(from, out));
                }
                for (String path : stale) { // written by an earlier report, no longer part of this one
                    Path old = data.resolve(path);
                    if (Files.isRegularFile(old, LinkOption.NOFOLLOW_LINKS)) {
                        files.delete(old);
                    }
                }
                written.add(data);
            }
            return new Written(report, written);
        }
    }

    private Shelf shelf(Path folder) {
        return (path, content) -> {
            Path target = folder.resolve(path);
            files.makeFolder(Objects.requireNonNull(target.getParent()));
            files.write(target, aside -> stream(aside, content));
        };
    }

    private static void stream(Path aside, Shelf.Content content) throws IOException {
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(aside))) {
            content.writeTo(out);
        }
    }

    private record Gathered(StudyReport report, @Nullable EstimateDocument estimate) {}

    private static List<DataBundle.Other> others(Gathered gathered) {
        List<DataBundle.Other> out = new ArrayList<>();
        EstimateDocument estimate = gathered.estimate();
        if (estimate != null) {
            out.add(new DataBundle.Other(
                    "estimate.json",
                    "The whole estimate with its settings, methods, assumptions and refusals",
                    "json",
                    "application/json",
                    ResultJson.of(estimate)));
        }
        PlanSection plan = gathered.report().plan();
        if (plan != null) {
            out.add(new DataBundle.Other(
                    "plan.json",
                    "What was planned before the first animal: question and answer",
                    "json",
                    "application/json",
                    ResultJson.of(plan.plan())));
        }
        return out;
    }

    /** The values of a report, from an open study. */
    private Gathered gather(StudyStore store, Request request) throws BadInputException, IOException {
        StudyInfo info = store.info();
        ZoneId zone = ZoneId.of(info.timeZone());
        List<HistoryEntry> history = store.history();
        Instant last =
                history.isEmpty() ? null : history.get(history.size() - 1).atUtc();
        Map<String, StudyOutcomes.Decided> decided = new HashMap<>();
        List<AnimalOutcome> outcomes = new ArrayList<>();
        List<StudyOutcomes.Decided> all = StudyOutcomes.of(store);
        for (StudyOutcomes.Decided one : all) {
            decided.put(StudyOutcomes.key(one.outcome().animal()), one);
            outcomes.add(one.outcome());
        }
        EstimateSettings declared = declared(store, outcomes);
        UnaryOperator<EstimateSettings> choices = request.choices();
        EstimateSettings settings = choices == null ? declared : choices.apply(declared);
        EstimateStudy.checkColumns(store.folder().toString(), outcomes, settings, declared);
        Map<String, JsonNode> readingSettings = new LinkedHashMap<>();
        List<AnimalSection> animals = animals(store, info, zone, decided, readingSettings);
        EstimateSection estimate = null;
        EstimateDocument document = null;
        EstimateResult result = null;
        if (!outcomes.isEmpty()) {
            result = EstimateStudy.of(
                    outcomes,
                    StudyLandings.of(store),
                    StudyReturns.of(store),
                    StudyRecoveries.ofSections(animals),
                    StudyRecoveries.tracks(store, all),
                    settings);
            document = EstimateStudy.document(info.title(), null, result);
            estimate = EstimateSections.of(result, outcomes, remarks(store, outcomes), new Judge(store).agreement());
        }
        PlanSection plan = PlanSections.of(store, result, outcomes);
        StudyReport report = new StudyReport(
                new StudyReport.About(
                        info.title(),
                        info.species(),
                        scientificName(info, request),
                        info.site(),
                        info.latDeg(),
                        info.lonDeg(),
                        zone,
                        info.origin() == StudyInfo.Origin.INVENTED
                                ? StudyReport.Origin.INVENTED
                                : StudyReport.Origin.OBSERVED,
                        request.authors(),
                        request.licence(),
                        last == null ? LocalDate.EPOCH : last.atZone(zone).toLocalDate(),
                        info.notes()),
                animals,
                estimate,
                plan,
                new StudyReport.MadeWith(
                        Version.current(),
                        List.of(new StudyReport.NameAndValue("Java", System.getProperty("java.version", "unknown"))),
                        settingsJson(settings, readingSettings),
                        settings.seed(),
                        history.size(),
                        last));
        return new Gathered(report, document);
    }

    /**
     * Horizon and rule as declared in the study; the planned groups compared; trips as clusters; fight, air and warmth each on its own as what could
     * make it worse, where every animal has them; control animals and the fishery as kept. The rest by default.
     */
    static EstimateSettings declared(StudyStore store, List<AnimalOutcome> animals) throws StudyException {
        StudyInfo info = store.info();
        EstimateSettings defaults = EstimateSettings.defaults();
        List<List<String>> models = new ArrayList<>();
        for (String column : List.of("fightMin", "airExposureS", "waterTempC")) {
            if (animals.stream().allMatch(a -> a.covariates().containsKey(column))
                    && animals.stream()
                                    .map(a -> a.covariates().get(column))
                                    .distinct()
                                    .count()
                            > 1) {
                models.add(List.of(column));
            }
        }
        boolean trips =
                !animals.isEmpty() && animals.stream().allMatch(a -> a.groups().containsKey("trip"));
        long planned = animals.stream()
                .map(a -> a.groups().get("group"))
                .filter(Objects::nonNull)
                .distinct()
                .count();
        EstimateSettings ofAnimals = defaults.change()
                .horizonH(info.horizonH())
                .deaths(new DeathRule(defaults.deaths().eaten(), info.catchDeathH()))
                .riskModels(models)
                .clusterBy(trips ? "trip" : null)
                .groupBy(planned >= 2 && planned <= 12 ? List.of("group") : List.of())
                .done();
        return KeepNumbers.into(ofAnimals, KeepNumbers.of(store));
    }

    private static @Nullable String scientificName(StudyInfo info, Request request) {
        if (request.scientificName() != null) {
            return request.scientificName();
        }
        String species = info.species();
        return species != null && species.matches("[A-Z][a-z]+ [a-z]+([,(; ].*)?")
                ? species.replaceAll("^([A-Z][a-z]+ [a-z]+).*$", "$1")
                : null;
    }

    private static List<String> remarks(StudyStore store, List<AnimalOutcome> outcomes) throws IOException {
        List<String> out = new ArrayList<>();
        Map<String, SearchOutcome> searches = StudyOutcomes.decisiveSearches(store);
        long missing = outcomes.stream()
                .filter(o -> o.end() == RecordEnd.PACKAGE_LOST)
                .filter(o -> {
                    SearchOutcome search = searches.get(StudyOutcomes.key(o.animal()));
                    return search == null || search.outcome() != SearchOutcome.Outcome.ABANDONED;
                })
                .count();
        if (missing > 0) {
            out.add(missing + (missing == 1 ? " package is" : " packages are")
                    + " still at sea; nothing is known of the animal, as with a lost package.");
        }
        String cost = StudyReturns.cost(store);
        if (cost != null) {
            out.add(cost);
        }
        long byProgram =
                outcomes.stream().filter(o -> o.probabilities() != null).count();
        if (byProgram > 0) {
            out.add(byProgram + (byProgram == 1 ? " fate was" : " fates were")
                    + " decided by the program from the record alone; no reader has given a verdict on "
                    + (byProgram == 1 ? "it." : "them."));
        }
        return out;
    }

    // ---- animals

    private static List<AnimalSection> animals(
            StudyStore store,
            StudyInfo info,
            ZoneId zone,
            Map<String, StudyOutcomes.Decided> decided,
            Map<String, JsonNode> readingSettings)
            throws IOException {
        Map<String, Capture> captures = new HashMap<>();
        store.all(Capture.class).forEach(row -> captures.put(StudyOutcomes.key(row.animal()), row));
        Map<String, Release> releases = new HashMap<>();
        store.all(Release.class).forEach(row -> releases.put(StudyOutcomes.key(row.animal()), row));
        Map<String, FloatPackage> packages = new HashMap<>();
        store.all(FloatPackage.class).forEach(row -> packages.put(StudyOutcomes.key(row.serial()), row));
        Map<String, SearchOutcome> searches = StudyOutcomes.decisiveSearches(store);
        Map<String, RecordingRow> recordings = StudyOutcomes.latestRecordings(store);
        List<AnimalSection> out = new ArrayList<>();
        for (Animal animal : store.all(Animal.class)) {
            String key = StudyOutcomes.key(animal.name());
            Release release = releases.get(key);
            String serial = release == null ? null : release.packageSerial();
            CaptureFacts facts = facts(
                    animal,
                    captures.get(key),
                    release,
                    serial == null ? null : packages.get(StudyOutcomes.key(serial)));
            StudyOutcomes.Decided one = decided.get(key);
            RecordingRow recording = recordings.get(key);
            ReadingRow reading = one == null ? null : one.reading();
            AnimalSection.ReadingSection section = null;
            if (one != null && reading != null && recording != null) {
                section = section(store, info, zone, animal, release, one, recording, reading, readingSettings);
            }
            out.add(new AnimalSection(
                    animal.name(), facts, stage(release, searches.get(key), recording, section), section));
        }
        return out;
    }

    private static AnimalSection.ReadingSection section(
            StudyStore store,
            StudyInfo info,
            ZoneId zone,
            Animal animal,
            @Nullable Release release,
            StudyOutcomes.Decided decided,
            RecordingRow recording,
            ReadingRow reading,
            Map<String, JsonNode> readingSettings)
            throws IOException {
        Path folder = store.readingsFolder().resolve(reading.folder());
        JsonNode json = MAPPER.readTree(Files.readAllBytes(folder.resolve(ReadingFiles.RESULT)));
        JsonNode settings = json.get("settings");
        if (settings != null) {
            readingSettings.put(animal.name(), settings);
        }
        SecondTable seconds = SeriesTable.from(NumberTable.readParquet(folder.resolve(ReadingFiles.SECONDS)));
        ReadingSections sections = new ReadingSections(json, zone, animal.name());
        return sections.section(
                seconds,
                nights(sections.firstSample(), seconds.seconds(), info, release),
                decided,
                chain(store, recording, reading));
    }

    private static AnimalSection.Chain chain(StudyStore store, RecordingRow recording, ReadingRow reading)
            throws IOException {
        List<AnimalSection.RawLink> raw = new ArrayList<>();
        for (RawFile file : store.all(RawFile.class)) {
            if (file.recordingSha256().equals(recording.sha256())) {
                raw.add(new AnimalSection.RawLink(
                        "raw/" + file.storedName(), file.originalName(), file.sha256(), file.sizeBytes()));
            }
        }
        return new AnimalSection.Chain(
                raw,
                "recordings/" + recording.parquetName(),
                recording.parquetSha256(),
                "readings/" + reading.folder(),
                reading.key(),
                reading.settingsSha256(),
                reading.softwareVersion(),
                reading.files(),
                ReadingFiles.RESULT);
    }

    /** From each sunset to the next sunrise, within the recording; empty without place or time of day. */
    private static List<Span> nights(
            @Nullable Instant first, double durationS, StudyInfo info, @Nullable Release release) {
        Double lat = release == null || release.releaseLatDeg() == null ? info.latDeg() : release.releaseLatDeg();
        Double lon = release == null || release.releaseLonDeg() == null ? info.lonDeg() : release.releaseLonDeg();
        if (first == null || lat == null || lon == null) {
            return List.of();
        }
        SunTimes sun = SunOverRecording.times(first, durationS, lat, lon);
        List<Span> out = new ArrayList<>();
        for (double set : sun.sunsetS()) {
            double rise = Double.POSITIVE_INFINITY;
            for (double r : sun.sunriseS()) {
                rise = r > set ? Math.min(rise, r) : rise;
            }
            if (rise < set + 24 * 3600 && rise > 0 && set < durationS) {
                out.add(new Span(Math.max(0, set), Math.min(durationS, rise)));
            }
        }
        return out;
    }

    private static Stage stage(
            @Nullable Release release,
            @Nullable SearchOutcome search,
            @Nullable RecordingRow recording,
            AnimalSection.@Nullable ReadingSection reading) {
        if (reading != null) {
            return Stage.READ;
        }
        if (recording != null) {
            return Stage.LOADED;
        }
        if (release == null || release.releasedUtc() == null) {
            return Stage.NOT_RELEASED;
        }
        if (search == null) {
            return Stage.AT_SEA;
        }
        return switch (search.outcome()) {
            case NOT_FOUND -> Stage.AT_SEA;
            case ABANDONED -> Stage.LOST;
            case RETRIEVED -> Stage.RETRIEVED;
            case STRANDED -> Stage.STRANDED;
            case HANDED_IN -> Stage.HANDED_IN;
        };
    }

    private static CaptureFacts facts(
            Animal animal, @Nullable Capture c, @Nullable Release r, @Nullable FloatPackage p) {
        return new CaptureFacts(
                animal.species(),
                c == null ? null : c.trip(),
                c == null ? null : c.vessel(),
                c == null ? null : c.gear(),
                c == null ? null : spoken(c.hookType()),
                c == null ? null : spoken(c.hookLocation()),
                c == null ? null : spoken(c.hookLeft()),
                c == null ? null : spoken(c.bleeding()),
                c == null ? null : spoken(c.barotrauma()),
                c == null ? null : c.hookedUtc(),
                c == null ? null : c.fightMin(),
                c == null ? null : c.airExposureS(),
                c == null ? null : c.captureDepthM(),
                c == null ? null : c.lengthM(),
                c == null ? null : c.massKg(),
                c == null ? null : spoken(c.sex()),
                c == null ? null : c.reflexesTested(),
                c == null ? null : c.reflexesMissing(),
                c == null ? null : c.injuryScore(),
                c == null ? null : c.waterTempC(),
                c == null ? null : c.captureLatDeg(),
                c == null ? null : c.captureLonDeg(),
                r == null ? null : r.releasedUtc(),
                r == null ? null : spoken(r.releaseState()),
                r == null ? null : r.packageSerial(),
                p == null ? null : p.packageMassG(),
                r == null ? null : r.plannedDetachmentUtc(),
                c == null ? animal.notes() : c.captureNotes());
    }

    private static @Nullable String spoken(@Nullable Enum<?> value) {
        String word = StudyOutcomes.word(value);
        return word == null ? null : word.equals("j-hook") ? "J hook" : word.replace('-', ' ');
    }

    private static String settingsJson(EstimateSettings settings, Map<String, JsonNode> readingSettings)
            throws IOException {
        ObjectNode all = MAPPER.createObjectNode();
        all.set("estimate", MAPPER.valueToTree(settings));
        if (!readingSettings.isEmpty()) {
            all.set("reading", merged(readingSettings));
        }
        return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsString(all).replace("\r\n", "\n");
    }

    /** What is the same for all animals once; what differs, by animal. */
    private static JsonNode merged(Map<String, JsonNode> byAnimal) {
        List<JsonNode> values = List.copyOf(byAnimal.values());
        JsonNode first = values.get(0);
        if (values.stream().allMatch(first::equals)) {
            return first;
        }
        if (values.stream().allMatch(JsonNode::isObject)) {
            ObjectNode out = MAPPER.createObjectNode();
            first.fieldNames().forEachRemaining(name -> {
                Map<String, JsonNode> part = new LinkedHashMap<>();
                byAnimal.forEach((animal, node) -> part.put(animal, node.path(name)));
                out.set(name, merged(part));
            });
            return out;
        }
        ObjectNode out = MAPPER.createObjectNode();
        byAnimal.forEach(out::set);
        return MAPPER.createObjectNode().set("byAnimal", out);
    }
}
