package org.aftercast.voyage;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Position;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/**
 * Where the boat went: one table a day (UTC) in the study's folder {@code tracks/}, columns time, lat, lon. A point is kept
 * when the boat moved 15 m or a minute passed. The day's table is written anew at most once a minute, wholly or not at
 * all; a day that was begun before is gone on with. A jump of more than 60 m/s is left out: no boat does that.
 */
public final class BoatTrack {

    /** Folder of the tracks in the study. */
    public static final String FOLDER = "tracks";

    private static final String HEADER = "time,lat,lon";
    private static final double APART_M = 15;
    private static final Duration APART = Duration.ofMinutes(1);
    private static final double FASTEST_MPS = 60;

    private final Path study;
    private final FileStore files;
    private final List<Point> points = new ArrayList<>();
    private @Nullable LocalDate day;
    private @Nullable Instant written;
    private boolean unwritten;
    private @Nullable String trouble;

    /** One point, time in UTC. */
    public record Point(Instant time, double latDeg, double lonDeg) {}

    BoatTrack(Path study, FileStore files) {
        this.study = study;
        this.files = files;
    }

    synchronized void add(Instant time, Position position) {
        LocalDate today = time.atOffset(ZoneOffset.UTC).toLocalDate();
        if (!today.equals(day)) {
            if (unwritten) {
                write();
            }
            day = today;
            points.clear();
            points.addAll(stored(today));
        }
        if (!points.isEmpty()) {
            Point last = points.get(points.size() - 1);
            Duration since = Duration.between(last.time(), time);
            if (since.isNegative() || since.isZero()) {
                return;
            }
            double moved = Geodesics.distanceM(new Position(last.latDeg(), last.lonDeg()), position);
            if (moved > 200 + FASTEST_MPS * since.toMillis() / 1000.0
                    || (moved < APART_M && since.compareTo(APART) < 0)) {
                return;
            }
        }
        points.add(new Point(time, position.latDeg(), position.lonDeg()));
        unwritten = true;
        Instant before = written;
        if (before == null || Duration.between(before, time).compareTo(APART) >= 0) {
            write();
            written = time;
        }
    }

    synchronized List<Point> points() {
        return List.copyOf(points);
    }

    /** Why the track could not be written last time, or null. */
    synchronized @Nullable String trouble() {
        return trouble;
    }

    synchronized void close() {
        if (unwritten) {
            write();
        }
    }

    private static Path file(Path study, LocalDate day) {
        return study.resolve(FOLDER).resolve(day + ".csv");
    }

    private void write() {
        LocalDate of = day;
        if (of == null) {
            return;
        }
        StringBuilder text = new StringBuilder(HEADER).append('\n');
        for (Point p : points) {
            text.append(String.format(Locale.ROOT, "%s,%.6f,%.6f%n", p.time(), p.latDeg(), p.lonDeg()));
        }
        try {
            files.makeFolder(study.resolve(FOLDER));
            files.write(file(study, of), text.toString().getBytes(StandardCharsets.UTF_8));
            unwritten = false;
            trouble = null;
        } catch (IOException failure) {
            // The points stay in memory and are tried again; a full disk must not stop the positions.
            trouble = "the boat's track could not be written: " + failure.getMessage();
        }
    }

    private List<Point> stored(LocalDate of) {
        try {
            return read(file(study, of));
        } catch (IOException failure) {
            trouble = "the boat's track of today could not be read: " + failure.getMessage();
            return List.of();
        }
    }

    /** Points of a stored day; empty when there is none. Lines that cannot be read are passed over. */
    static List<Point> read(Path file) throws IOException {
        List<Point> out = new ArrayList<>();
        if (!Files.isRegularFile(file)) {
            return out;
        }
        for (String line : Files.readAllLines(file, StandardCharsets.UTF_8)) {
            String[] cells = line.split(",", -1);
            try {
                if (cells.length == 3 && !line.equals(HEADER)) {
                    out.add(new Point(
                            Instant.parse(cells[0]), Double.parseDouble(cells[1]), Double.parseDouble(cells[2])));
                }
            } catch (DateTimeException | NumberFormatException torn) {
                // a torn line of a copied table: the rest still tells where the boat was
            }
        }
        return out;
    }

    /** All points of the study between two times, oldest first. */
    static List<Point> between(Path study, Instant from, Instant to) throws IOException {
        List<Point> out = new ArrayList<>();
        LocalDate first = from.atOffset(ZoneOffset.UTC).toLocalDate();
        LocalDate last = to.atOffset(ZoneOffset.UTC).toLocalDate();
        Path folder = study.resolve(FOLDER);
        if (!Files.isDirectory(folder)) {
            return out;
        }
        try (var list = Files.list(folder)) {
            for (Path file : list.sorted().toList()) {
                String name = String.valueOf(file.getFileName());
                if (!name.endsWith(".csv") || name.length() != 14) {
                    continue;
                }
                String date = name.substring(0, 10);
                if (date.compareTo(first.toString()) >= 0 && date.compareTo(last.toString()) <= 0) {
                    for (Point p : read(file)) {
                        if (!p.time().isBefore(from) && !p.time().isAfter(to)) {
                            out.add(p);
                        }
                    }
                }
            }
        }
        return out;
    }
}
