package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashSet;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import org.aftercast.search.SearchSettings;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.ExportSearch;
import org.aftercast.voyage.Seek;
import org.aftercast.voyage.SeekDocument;
import org.aftercast.voyage.SeekStudy;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast seek}: from observations in a file to fix, regions and advice. */
@Command(
        name = "seek",
        mixinStandardHelpOptions = true,
        description = "Where a drifting package is, from observations in a file: fix, regions, forecast, next leg."
                + " Cautions and the turn-back time come first. Not for navigation.")
final class SeekCommand implements Callable<Integer> {

    private static final double MILE_M = 1852;

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Parameters(
            paramLabel = "FILE",
            description =
                    "Observations as CSV: time,lat,lon,kind,values (docs/search.md); or a study: all its searches,"
                            + " and which package first.")
    @SuppressWarnings("NullAway.Init")
    private Path file;

    @Option(names = "--json", paramLabel = "OUT", description = "Write everything as JSON (docs/seek.schema.json).")
    private @Nullable Path json;

    @Option(names = "--geojson", paramLabel = "OUT", description = "Write regions, bearings and leg as GeoJSON.")
    private @Nullable Path geoJson;

    @Option(
            names = "--gpx",
            paramLabel = "OUT",
            description = "Write the likeliest place, next leg and pattern as GPX.")
    private @Nullable Path gpx;

    @Option(
            names = "--coast",
            paramLabel = "FILE",
            description = "A better coast as GeoJSON polygons or closed GPX lines, added to the shipped one.")
    private @Nullable Path coast;

    @Option(
            names = "--log",
            paramLabel = "OUT",
            description = "Write the log of the search, not the fix: OUT.csv, OUT.gpx or OUT.geojson.")
    private @Nullable Path log;

    @Option(
            names = "--hours",
            paramLabel = "N",
            defaultValue = "6",
            description = "Hours to forecast, 0-240 (default: ${DEFAULT-VALUE}).")
    private int hours;

    @Option(
            names = "--particles",
            paramLabel = "N",
            defaultValue = "20000",
            description = "Number of particles, 500-200000 (default: ${DEFAULT-VALUE}).")
    private int particles;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "Randomness (default: ${DEFAULT-VALUE}).")
    private long seed;

    @Override
    public Integer call() throws IOException, BadInputException {
        SearchSettings settings;
        try {
            settings = SearchSettings.defaults().with(particles, seed);
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), "--" + bad.getMessage(), bad);
        }
        if (hours < 0 || hours > 240) {
            throw new ParameterException(spec.commandLine(), "--hours: " + hours + " is outside 0-240");
        }
        for (Path out : new Path[] {json, geoJson, gpx, log}) {
            if (out != null && Files.isDirectory(out)) {
                throw new BadInputException(out + ": is a folder; accepted: the name of a file to write");
            }
        }
        if (log != null) {
            ExportSearch.Form.ofName(String.valueOf(log.getFileName()));
        }
        Seek seek = new Seek(FileStore.onDisk());
        boolean study = Files.isRegularFile(file.resolve("study.db"));
        if (study && log != null) {
            throw new ParameterException(
                    spec.commandLine(), "--log: the log of one search is written; give its table in searches/");
        }
        SeekDocument document = study
                ? new SeekStudy(FileStore.onDisk()).run(file, new Seek.Options(settings, hours, coast))
                : seek.run(file, new Seek.Options(settings, hours, coast, studyOf(file)));
        PrintWriter out = spec.commandLine().getOut();
        print(document, out);
        if (json != null) {
            seek.writeJson(document, json);
            out.println("Written: " + json);
        }
        if (geoJson != null) {
            seek.writeGeoJson(document, geoJson);
            out.println("Written: " + geoJson);
        }
        if (gpx != null) {
            seek.writeGpx(document, gpx);
            out.println("Written: " + gpx);
        }
        if (log != null) {
            new ExportSearch(FileStore.onDisk()).write(file, log);
            out.println("Written: " + log);
        }
        out.flush();
        return 0;
    }

    /** The study whose table of a search this is, or null. */
    private static @Nullable Path studyOf(Path table) {
        Path folder = table.toAbsolutePath().normalize().getParent();
        Path above = folder == null ? null : folder.getParent();
        return above != null && Files.isRegularFile(above.resolve("study.db")) ? above : null;
    }

    private static void print(SeekDocument document, PrintWriter out) {
        out.println("Cautions");
        document.cautions().forEach(c -> out.println("  - " + c));
        Set<String> turnBacks = new LinkedHashSet<>();
        document.packages().forEach(p -> turnBacks.add(turnBack(p.turnBack())));
        if (!turnBacks.isEmpty()) {
            out.println();
        }
        turnBacks.forEach(t -> out.println("Turn back: " + t));
        for (SeekDocument.Ended e : document.ended()) {
            out.println();
            out.printf(
                    Locale.ROOT,
                    "%s: %s at %s, after %.1f h and %.1f NM; hours and miles %s%s%n",
                    e.name(),
                    e.outcome().replace('-', ' '),
                    minute(e.at()),
                    e.hours(),
                    e.miles(),
                    e.howKnown(),
                    e.driftMps() == null
                            ? ""
                            : String.format(
                                    Locale.ROOT,
                                    "; its drift of %.2f m/s to %03.0f° is used for the others",
                                    e.driftMps(),
                                    e.driftToDeg()));
        }
        for (SeekDocument.Sought p : document.packages()) {
            out.println();
            out.println(p.name() + ", as of " + minute(document.asOf())
                    + (p.whyInThisOrder().isEmpty() ? "" : ": " + p.whyInThisOrder()));
            SeekDocument.NextStep advice = p.advice();
            if (advice != null) {
                out.println("  Next: " + advice.action().replace('-', ' ') + ". " + advice.reason());
                SeekDocument.LegPart leg = advice.leg();
                if (leg != null && leg.distanceM() >= 1) {
                    out.printf(
                            Locale.ROOT,
                            "  Leg: %s, %.2f NM to %s, there %s%n",
                            course(leg),
                            leg.distanceM() / MILE_M,
                            leg.to().chart(),
                            minute(leg.arrival()));
                }
                out.println("  Gain: " + advice.gainReason());
            }
            SeekDocument.FixPart fix = p.fix();
            out.printf(
                    Locale.ROOT,
                    "  Likeliest place: %s; 95 %% region %.2f square NM in %d piece(s), 50 %% %.2f%n",
                    fix.peak().chart(),
                    fix.area95M2() / MILE_M / MILE_M,
                    pieces(p),
                    fix.area50M2() / MILE_M / MILE_M);
            out.printf(Locale.ROOT, "  Drift: %.2f m/s to %03.0f°%n", fix.driftMps(), fix.driftToDeg());
            SeekDocument.Beacon b = p.beacon();
            out.printf(
                    Locale.ROOT,
                    "  Beacon: adrift and sending %.0f %%, ashore %.0f %%, silent for whatever reason %.0f %%%s%n",
                    100 * b.adrift(),
                    100 * b.ashore(),
                    100 * (b.stillAttached() + b.insidePredator() + b.beaconDead()),
                    b.shedEarly().equals("yes") || b.shedEarly().equals("one-report")
                            ? "; heard before its planned detachment: shed early"
                            : "");
            for (SeekDocument.ResidualPart r : p.residuals()) {
                if (!r.verdict().equals("agrees")) {
                    out.printf(
                            Locale.ROOT,
                            "  Bearing of %s (%03.0f° true): %s, off by %.0f°%n",
                            r.time(),
                            r.trueBearingDeg(),
                            r.verdict().replace('-', ' '),
                            r.meanDeg());
                }
            }
        }
    }

    private static String course(SeekDocument.LegPart leg) {
        Double declination = leg.declinationDeg();
        return three(leg.courseDeg()) + " true"
                + (declination == null ? "" : " (" + three(leg.courseDeg() - declination) + " magnetic)");
    }

    private static String three(double deg) {
        return String.format(Locale.ROOT, "%03d°", Math.floorMod(Math.round(deg), 360));
    }

    private static String turnBack(SeekDocument.@Nullable TurnBack turnBack) {
        if (turnBack == null) {
            return "not known; give a boat row and a home row";
        }
        return turnBack.at() == null
                ? "not known; " + turnBack.reason()
                : "at the latest " + minute(turnBack.at()) + " (" + turnBack.reason() + ")";
    }

    /** To the full minute before: a turn-back time is never told later than it is. */
    private static String minute(String time) {
        return Instant.parse(time).truncatedTo(ChronoUnit.MINUTES).toString().replaceFirst(":00Z$", "Z");
    }

    private static long pieces(SeekDocument.Sought p) {
        if (!(p.regions().get("features") instanceof Iterable<?> features)) {
            return 0;
        }
        long count = 0;
        for (Object feature : features) {
            if (feature instanceof Map<?, ?> f
                    && f.get("properties") instanceof Map<?, ?> q
                    && "region".equals(q.get("what"))
                    && Double.valueOf(0.95).equals(q.get("probability"))) {
                count++;
            }
        }
        return count;
    }
}
