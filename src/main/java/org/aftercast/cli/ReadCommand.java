package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.InstantSource;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.Sighting;
import org.aftercast.intake.ImportOptions;
import org.aftercast.motion.MotionSettings;
import org.aftercast.motion.MountPose;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.ReadContext;
import org.aftercast.voyage.ReadFile;
import org.aftercast.voyage.ReadStudy;
import org.aftercast.voyage.ReadingDocument;
import org.aftercast.voyage.Settings;
import org.aftercast.voyage.SettingsFile;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;

/** {@code aftercast read}. */
@Command(
        name = "read",
        mixinStandardHelpOptions = true,
        description = "From a download to tailbeats, posture, activity, bouts, recovery and fate.")
final class ReadCommand implements Callable<Integer> {

    static final String SEEN_WORDS = "swam-off-strongly, swam-off-weakly, sank-without-swimming, floated-at-release,"
            + " tooth-marks, scratches, water-inside, attachment-broken, larger-fish-about, seen-alive-later, found-dead";

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Parameters(
            arity = "1..*",
            paramLabel = "FILE|DIR",
            description = "Downloads (CSV, plain or packed), each a recording of its own; or a study's folder, then the"
                    + " names of animals (default: all with a recording).")
    @SuppressWarnings("NullAway.Init") // required
    private List<Path> sources;

    @Mixin
    private final WhoOption who = new WhoOption();

    @Option(names = "--json", paramLabel = "OUT", description = "Write everything as JSON (docs/reading.schema.json).")
    private @Nullable Path json;

    @Option(
            names = "--series",
            paramLabel = "OUT",
            description = "Write the one-per-second table; OUT ends in .csv or .parquet.")
    private @Nullable Path series;

    @Option(names = "--layout", paramLabel = "LAYOUT", description = "How to read the file: a saved download layout.")
    private @Nullable Path layout;

    @Option(
            names = "--start",
            paramLabel = "TIME",
            converter = Time.class,
            description = "Instant of the first sample, for files without a time column (2026-06-01T08:00:00Z).")
    private @Nullable Instant start;

    @Option(
            names = "--rate-hz",
            paramLabel = "HZ",
            description = "Samples per second, for files without a time column.")
    private @Nullable Double rateHz;

    @Option(
            names = "--beat-axis",
            paramLabel = "AXIS",
            converter = Axis.class,
            description =
                    "Which axis carries the beat: sway (default, lateral axis of the body frame), sensor-x, sensor-y,"
                            + " sensor-z, strongest.")
    private MotionSettings.@Nullable BeatAxis beatAxis;

    @Option(
            names = "--band-hz",
            paramLabel = "LO,HI",
            split = ",",
            description = "Band of the tailbeat; found from the data when not given.")
    private double @Nullable [] bandHz;

    @Option(
            names = "--rests-on-bottom",
            paramLabel = "yes|no",
            converter = YesNo.class,
            description = "Whether animals of this kind can lie still and breathe (default: unknown).")
    private @Nullable RestsOnBottom rests;

    @Option(names = "--length-m", paramLabel = "M", description = "Body length in metres.")
    private @Nullable Double lengthM;

    @Option(
            names = "--latitude",
            paramLabel = "DEG",
            description = "Latitude, for depth from pressure and for the sun.")
    private @Nullable Double latitude;

    @Option(names = "--longitude", paramLabel = "DEG", description = "Longitude, for the sun.")
    private @Nullable Double longitude;

    @Option(names = "--site-depth-m", paramLabel = "M", description = "Water depth at the release.")
    private @Nullable Double siteDepthM;

    @Option(
            names = "--release-utc",
            paramLabel = "TIME",
            converter = Time.class,
            description = "When the animal was let go; found from the record when not given.")
    private @Nullable Instant release;

    @Option(
            names = "--detach-utc",
            paramLabel = "TIME",
            converter = Time.class,
            description = "When the package came off; found from the record when not given.")
    private @Nullable Instant detach;

    @Option(
            names = "--planned-detach-utc",
            paramLabel = "TIME",
            converter = Time.class,
            description = "When the package was meant to come off.")
    private @Nullable Instant planned;

    @Option(names = "--noise-g", paramLabel = "G", description = "Noise in the beat band (standard deviation).")
    private @Nullable Double noiseG;

    @Option(
            names = "--mount-deg",
            paramLabel = "PITCH,ROLL,YAW[@S]",
            converter = Mount.class,
            description = "How the package sits, when you know better than the estimate: pitch and roll that the sensor"
                    + " shows while the animal lies level, and the turn to its head, anticlockwise from above. Give it"
                    + " again with @S for a shift S seconds after the first sample.")
    private List<MountPose> mounts = List.of();

    @Option(
            names = "--seen",
            paramLabel = "WHAT[@S][=NOTE]",
            converter = Seen.class,
            description = "What people saw of the animal, its package or the sea about it, for a single file: "
                    + SEEN_WORDS
                    + ". With @S it was S seconds after the first sample; the note may name a photograph. May be given"
                    + " again. The fate is told with and without it.")
    private List<Sighting> seen = List.of();

    @Option(
            names = "--settings",
            paramLabel = "FILE",
            description =
                    "Settings to start from: a result written by --json (with what was known beside the recording),"
                            + " or its settings alone. Options given beside it win.")
    private @Nullable Path settingsFile;

    @Override
    public Integer call() throws Exception {
        return Files.isDirectory(sources.get(0)) ? readStudy(sources.get(0)) : readFiles();
    }

    private int readStudy(Path folder) throws IOException, BadInputException {
        if (!seen.isEmpty()) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--seen is for single files; in a study what people saw is a record of the animal (aftercast serve,"
                            + " page of the animal).");
        }
        if (json != null || series != null || layout != null || release != null || detach != null) {
            throw new ParameterException(
                    spec.commandLine(),
                    "A study's readings lie in its folder readings/ (JSON and Parquet); --json, --series, --layout,"
                            + " --release-utc and --detach-utc are for single files.");
        }
        PrintWriter out = spec.commandLine().getOut();
        List<String> animals =
                sources.subList(1, sources.size()).stream().map(Path::toString).toList();
        try (StudyStore store =
                StudyStore.open(folder, StudyStore.Access.WRITE, FileStore.onDisk(), InstantSource.system())) {
            store.notices().forEach(out::println);
            List<ReadStudy.OfAnimal> readings = new ReadStudy(store, InstantSource.system())
                    .read(who.who(), animals, settings(), (animal, done, total, kept) -> {
                        out.printf("%d of %d  %s%s%n", done, total, animal, kept ? " (kept from before)" : "");
                        out.flush();
                    });
            if (readings.isEmpty()) {
                out.println("No recordings yet. Next: aftercast load " + folder + " ANIMAL FILE");
            }
            for (ReadStudy.OfAnimal reading : readings) {
                ReadSummary.print(ReadingDocument.of(reading.reading(), reading.animal(), null, List.of()), out);
            }
        }
        out.flush();
        return 0;
    }

    private int readFiles() throws IOException, BadInputException {
        if (sources.size() > 1 && ((json != null && !Files.isDirectory(json)) || (series != null))) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--json and --series take one FILE; for several files give --json an existing folder.");
        }
        Settings settings = settings();
        ReadContext known = settingsFile == null ? ReadContext.nothingKnown() : SettingsFile.known(settingsFile);
        ReadContext context = new ReadContext(
                release == null ? known.releaseUtc() : release,
                detach == null ? known.detachUtc() : detach,
                planned == null ? known.plannedDetachUtc() : planned,
                rests == null ? known.restsOnBottom() : rests,
                siteDepthM == null ? known.siteDepthM() : siteDepthM,
                latitude,
                longitude,
                known.recordEnd(),
                Stream.concat(known.sightings().stream(), seen.stream()).toList(),
                null);
        ReadFile reader = new ReadFile(FileStore.onDisk());
        PrintWriter out = spec.commandLine().getOut();
        for (Path source : sources) {
            ReadFile.Result result =
                    reader.read(source, layout, new ImportOptions(start, rateHz, null), context, settings);
            if (json != null) {
                reader.writeJson(result, Files.isDirectory(json) ? json.resolve(source.getFileName() + ".json") : json);
            }
            if (series != null) {
                reader.writeSeries(result, series);
            }
            ReadSummary.print(result.document(), out);
        }
        out.flush();
        return 0;
    }

    private Settings settings() throws IOException, BadInputException {
        Settings d = settingsFile == null ? Settings.defaults() : SettingsFile.read(settingsFile);
        MotionSettings m = d.motion();
        Double low = m.bandLowHz();
        Double high = m.bandHighHz();
        if (bandHz != null) {
            if (bandHz.length != 2) {
                throw new BadInputException("--band-hz: " + bandHz.length
                        + " numbers; accepted: two, the lower and the upper edge, as in 0.3,3");
            }
            low = bandHz[0];
            high = bandHz[1];
        }
        try {
            return new Settings(
                    new MotionSettings(
                            low,
                            high,
                            beatAxis == null ? m.beatAxis() : beatAxis,
                            lengthM == null ? m.lengthM() : lengthM,
                            latitude == null ? m.latitudeDeg() : latitude,
                            m.noiseMultiple(),
                            noiseG == null ? m.noiseG() : noiseG,
                            m.bridgeS(),
                            mounts.isEmpty() ? m.mounts() : mounts),
                    d.behaviour(),
                    d.fate());
        } catch (IllegalArgumentException bad) {
            throw new BadInputException(String.valueOf(bad.getMessage()));
        }
    }

    /** Three angles and perhaps a moment. */
    static final class Mount implements ITypeConverter<MountPose> {
        @Override
        public MountPose convert(String value) {
            try {
                String[] halves = value.split("@", -1);
                String[] angles = halves[0].split(",", -1);
                if (halves.length > 2 || angles.length != 3) {
                    throw new NumberFormatException();
                }
                return new MountPose(
                        halves.length == 2 ? Double.parseDouble(halves[1]) : 0,
                        Double.parseDouble(angles[0]),
                        Double.parseDouble(angles[1]),
                        Double.parseDouble(angles[2]));
            } catch (NumberFormatException notThree) {
                throw new TypeConversionException("'" + value
                        + "' is not a pose; accepted: pitch, roll and yaw in degrees, as in 5,-12,90 or 5,-12,90@3600");
            } catch (IllegalArgumentException outside) {
                throw new TypeConversionException(String.valueOf(outside.getMessage()));
            }
        }
    }

    /** Something seen, perhaps its moment, perhaps a note. */
    static final class Seen implements ITypeConverter<Sighting> {
        @Override
        public Sighting convert(String value) {
            int equals = value.indexOf('=');
            String note = equals < 0 ? "" : value.substring(equals + 1).strip();
            String[] halves = (equals < 0 ? value : value.substring(0, equals)).split("@", -1);
            try {
                Sighting.What what = Sighting.What.valueOf(
                        halves[0].strip().toUpperCase(Locale.ROOT).replace('-', '_'));
                Double atS = halves.length == 1 ? null : (Double) Double.parseDouble(halves[1]);
                if (halves.length > 2 || (atS != null && !Double.isFinite(atS))) {
                    throw new IllegalArgumentException();
                }
                return new Sighting(what, atS, note);
            } catch (IllegalArgumentException unknown) { // also a moment that is no number
                throw new TypeConversionException("'" + value + "' is nothing that can be seen; accepted: " + SEEN_WORDS
                        + ", then @S (seconds after the first sample) and =NOTE where wanted, as in"
                        + " tooth-marks=photo 3");
            }
        }
    }

    /** An instant with its offset from UTC. */
    static final class Time implements ITypeConverter<Instant> {
        @Override
        public Instant convert(String value) {
            try {
                return OffsetDateTime.parse(value).toInstant();
            } catch (DateTimeException notATime) {
                throw new TypeConversionException(
                        "'" + value + "' is not a time; accepted: ISO 8601 with offset, as in 2026-06-01T08:00:00Z");
            }
        }
    }

    /** A beat axis by its hyphenated name. */
    static final class Axis implements ITypeConverter<MotionSettings.BeatAxis> {
        @Override
        public MotionSettings.BeatAxis convert(String value) {
            try {
                return MotionSettings.BeatAxis.valueOf(
                        value.toUpperCase(Locale.ROOT).replace('-', '_'));
            } catch (IllegalArgumentException unknown) {
                throw new TypeConversionException(
                        "'" + value + "' is not an axis; accepted: sway, sensor-x, sensor-y, sensor-z, strongest");
            }
        }
    }

    /** Yes, no or unknown. */
    static final class YesNo implements ITypeConverter<RestsOnBottom> {
        @Override
        public RestsOnBottom convert(String value) {
            try {
                return RestsOnBottom.valueOf(value.toUpperCase(Locale.ROOT));
            } catch (IllegalArgumentException unknown) {
                throw new TypeConversionException("'" + value + "' is neither; accepted: yes, no, unknown");
            }
        }
    }
}
