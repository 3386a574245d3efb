package org.aftercast.voyage;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.aftercast.geo.NmeaReader;
import org.aftercast.geo.OwnShip;
import org.aftercast.geo.Position;
import org.aftercast.instruments.GpsFeed;
import org.aftercast.study.FileStore;
import org.jspecify.annotations.Nullable;

/**
 * The boat's own position from its instruments, and the track it made. Nothing is listened to until {@link #listenTo}; a
 * position older than {@link #STALE_AFTER} is told as stale and never used as if it were new.
 */
public final class OwnGps implements Closeable {

    /** A position older than this is stale. */
    public static final Duration STALE_AFTER = Duration.ofSeconds(10);

    /** What {@link #listenTo} takes. */
    public static final String ACCEPTED =
            "tcp:HOST:PORT, udp:PORT, serial:PORT[:RATE] (4800 without), or log:FILE[:TIMES] to replay a log";

    private static final Pattern TCP = Pattern.compile("tcp:(\\[[^\\]]+\\]|[^:]+):(\\d{1,5})");
    private static final Pattern UDP = Pattern.compile("udp:(\\d{1,5})");
    private static final Pattern SERIAL = Pattern.compile("serial:(.+?)(?::(\\d{3,7}))?");
    private static final Pattern LOG = Pattern.compile("log:(.+?)(?::(\\d{1,7}(?:\\.\\d+)?))?");

    private final InstantSource clock;
    private final BoatTrack track;
    private @Nullable GpsFeed feed;
    private @Nullable String source;

    /**
     * What the instruments say now.
     *
     * @param source what is listened to, or null
     * @param link state of the link in words
     * @param ownShip what was last said
     * @param ageS seconds since the last position, or null without one
     * @param stale whether there is no position to go by
     * @param counts lines heard, refused, without checksum
     * @param problems the last refusals
     */
    public record State(
            @Nullable String source,
            String link,
            OwnShip ownShip,
            @Nullable Double ageS,
            boolean stale,
            NmeaReader.Counts counts,
            List<String> problems) {}

    /**
     * For one study; its track is kept in the folder {@code tracks/}.
     *
     * @param clock this machine's clock: only ages are told by it, times come from the GPS where it gives them
     */
    public OwnGps(Path study, FileStore files, InstantSource clock) {
        this.clock = clock;
        this.track = new BoatTrack(study, files);
    }

    /**
     * Listens to a source instead of the one before; null: to nothing.
     *
     * @throws BadInputException if the source is none of {@link #ACCEPTED}
     */
    public synchronized void listenTo(@Nullable String wanted) throws BadInputException, IOException {
        GpsFeed opened = wanted == null || wanted.isBlank() ? null : open(wanted.strip());
        GpsFeed before = feed;
        feed = opened;
        source = opened == null ? null : String.valueOf(wanted).strip();
        if (before != null) {
            before.close();
        }
    }

    private GpsFeed open(String wanted) throws BadInputException {
        Clock asClock = asClock(clock);
        Matcher tcp = TCP.matcher(wanted);
        if (tcp.matches()) {
            return GpsFeed.tcp(tcp.group(1), port(wanted, tcp.group(2)), asClock, this::noted);
        }
        Matcher udp = UDP.matcher(wanted);
        if (udp.matches()) {
            int port = port(wanted, udp.group(1));
            try {
                return GpsFeed.udp(port, asClock, this::noted);
            } catch (IOException taken) {
                throw new BadInputException("gps: port " + port + " cannot be listened on (" + taken.getMessage()
                        + "); accepted: a UDP port that no other program has taken");
            }
        }
        Matcher serial = SERIAL.matcher(wanted);
        if (serial.matches()) {
            int rate = serial.group(2) == null ? 4800 : Integer.parseInt(serial.group(2));
            return GpsFeed.serial(serial.group(1), rate, asClock, this::noted);
        }
        Matcher log = LOG.matcher(wanted);
        if (log.matches()) {
            Path file = Path.of(log.group(1));
            double times = log.group(2) == null ? 1 : Double.parseDouble(log.group(2));
            if (!(times > 0)) {
                throw new BadInputException("gps: \"" + wanted + "\": the pace must be above 0; accepted: " + ACCEPTED);
            }
            if (!Files.isRegularFile(file)) {
                throw new BadInputException("gps: " + file + ": there is no such file; accepted: a log of NMEA 0183");
            }
            try {
                return GpsFeed.replay(file, times, asClock, this::noted);
            } catch (IOException failure) {
                throw new BadInputException("gps: " + file + ": cannot be read (" + failure + ")");
            }
        }
        throw new BadInputException("gps: \"" + wanted + "\" is no source of positions; accepted: " + ACCEPTED);
    }

    private static int port(String wanted, String digits) throws BadInputException {
        int port = Integer.parseInt(digits);
        if (port < 1 || port > 65_535) {
            throw new BadInputException("gps: \"" + wanted + "\": port " + port + " is outside 1–65535");
        }
        return port;
    }

    private void noted(OwnShip ship) {
        Position position = ship.position();
        Instant received = ship.receivedAt();
        if (position != null && received != null) {
            Instant at = ship.gpsTime();
            track.add(at == null ? received : at, position);
        }
    }

    /** What the instruments say now. */
    public synchronized State state() {
        GpsFeed now = feed;
        if (now == null) {
            return new State(
                    null, "not listening", OwnShip.NOTHING, null, true, new NmeaReader.Counts(0, 0, 0), List.of());
        }
        OwnShip ship = now.state();
        Instant received = ship.receivedAt();
        Double age = received == null
                ? null
                : Math.max(0, Duration.between(received, clock.instant()).toMillis() / 1000.0);
        return new State(
                source,
                now.link(),
                ship,
                age,
                ship.isStale(clock.instant(), STALE_AFTER),
                now.counts(),
                now.problems());
    }

    /** The track of the day the last position fell on, oldest first. */
    public List<BoatTrack.Point> track() {
        return track.points();
    }

    /** Names of this machine's serial ports. */
    public static List<String> serialPorts() {
        return GpsFeed.serialPorts();
    }

    private static Clock asClock(InstantSource source) {
        return source.withZone(java.time.ZoneOffset.UTC);
    }

    @Override
    public synchronized void close() throws IOException {
        GpsFeed now = feed;
        feed = null;
        source = null;
        if (now != null) {
            now.close();
        }
        track.close();
    }
}
