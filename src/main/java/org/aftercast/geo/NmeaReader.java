package org.aftercast.geo;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Follows a stream of NMEA 0183 lines and keeps what the boat's instruments last said: RMC, GGA, GLL, VTG, HDG, HDT, HDM
 * and ZDA of any talker.
 *
 * <p>Refused: damaged lines, RMC and GLL with status V, GGA with quality 0. Empty fields change nothing. Not thread-safe.
 */
public final class NmeaReader {

    /** Below this speed, 0.5 m/s, a course over ground is not believed (judgement). */
    public static final double COURSE_FLOOR_MPS = 0.5;

    private static final double KNOT_MPS = Geodesics.NAUTICAL_MILE_M / 3600;
    private static final int PROBLEMS_KEPT = 50;

    private OwnShip state = OwnShip.NOTHING;
    private @Nullable LocalDate date;
    private final List<String> problems = new ArrayList<>();
    private long lines;
    private long refused;
    private long withoutChecksum;

    /** What has been heard so far. */
    public OwnShip state() {
        return state;
    }

    /** Counts of what came in. */
    public record Counts(long lines, long refused, long withoutChecksum) {}

    /** How many lines came in, were refused, and came without a checksum. */
    public Counts counts() {
        return new Counts(lines, refused, withoutChecksum);
    }

    /** The last refusals, oldest first, at most 50. */
    public List<String> problems() {
        return List.copyOf(problems);
    }

    /**
     * Takes one line.
     *
     * @param receivedAt when it came in
     * @return whether the line gave a new position
     */
    public boolean accept(String line, Instant receivedAt) {
        if (line.isBlank()) {
            return false;
        }
        lines++;
        try {
            NmeaSentence sentence = NmeaSentence.parse(line);
            if (sentence.checksum() == NmeaSentence.Checksum.MISSING) {
                withoutChecksum++;
            }
            return switch (sentence.type()) {
                case "RMC" -> rmc(sentence, receivedAt);
                case "GGA" -> gga(sentence, receivedAt);
                case "GLL" -> gll(sentence, receivedAt);
                case "VTG" -> vtg(sentence);
                case "HDG" -> hdg(sentence);
                case "HDT" -> heading(number(sentence.field(0)), null);
                case "HDM" -> heading(null, number(sentence.field(0)));
                case "ZDA" -> zda(sentence);
                default -> false;
            };
        } catch (NmeaSentence.BadSentenceException | NumberFormatException | DateTimeException bad) {
            refuse(String.valueOf(bad.getMessage()));
            return false;
        } catch (IllegalArgumentException bad) {
            refuse("position out of range: " + bad.getMessage());
            return false;
        }
    }

    private void refuse(String why) {
        refused++;
        problems.add(why);
        if (problems.size() > PROBLEMS_KEPT) {
            problems.remove(0);
        }
    }

    private boolean rmc(NmeaSentence s, Instant receivedAt) throws NmeaSentence.BadSentenceException {
        if (!s.field(1).equals("A")) {
            throw new NmeaSentence.BadSentenceException("RMC with status '" + s.field(1) + "': no valid fix");
        }
        if (s.field(8).length() == 6) {
            int year = Integer.parseInt(s.field(8).substring(4));
            date = LocalDate.of(
                    year < 80 ? 2000 + year : 1900 + year,
                    Integer.parseInt(s.field(8).substring(2, 4)),
                    Integer.parseInt(s.field(8).substring(0, 2)));
        }
        motion(number(s.field(6)), number(s.field(7)));
        return position(s.field(0), s.field(2), s.field(3), s.field(4), s.field(5), null, receivedAt);
    }

    private boolean gga(NmeaSentence s, Instant receivedAt) throws NmeaSentence.BadSentenceException {
        if (s.field(5).isEmpty() || s.field(5).equals("0")) {
            throw new NmeaSentence.BadSentenceException("GGA with quality '" + s.field(5) + "': no valid fix");
        }
        Double count = number(s.field(6));
        return position(
                s.field(0),
                s.field(1),
                s.field(2),
                s.field(3),
                s.field(4),
                count == null ? null : count.intValue(),
                receivedAt);
    }

    private boolean gll(NmeaSentence s, Instant receivedAt) throws NmeaSentence.BadSentenceException {
        if (s.field(5).equals("V")) {
            throw new NmeaSentence.BadSentenceException("GLL with status 'V': no valid fix");
        }
        return position(s.field(4), s.field(0), s.field(1), s.field(2), s.field(3), null, receivedAt);
    }

    private boolean vtg(NmeaSentence s) {
        Double knots = number(s.field(4));
        if (knots != null) {
            motion(knots, number(s.field(0)));
        }
        return false;
    }

    private boolean hdg(NmeaSentence s) {
        Double reading = number(s.field(0));
        if (reading == null) {
            return false;
        }
        double magnetic = Bearings.wrap360(reading + signed(s.field(1), s.field(2)));
        Double trueHeading = s.field(3).isEmpty() ? null : Bearings.wrap360(magnetic + signed(s.field(3), s.field(4)));
        return heading(trueHeading, magnetic);
    }

    private boolean zda(NmeaSentence s) {
        if (!s.field(1).isEmpty() && !s.field(2).isEmpty() && !s.field(3).isEmpty()) {
            date = LocalDate.of(
                    Integer.parseInt(s.field(3)), Integer.parseInt(s.field(2)), Integer.parseInt(s.field(1)));
        }
        return false;
    }

    private boolean heading(@Nullable Double trueDeg, @Nullable Double magneticDeg) {
        state = new OwnShip(
                state.gpsTime(),
                state.position(),
                state.receivedAt(),
                state.speedMps(),
                state.courseDeg(),
                trueDeg == null ? state.headingTrueDeg() : trueDeg,
                magneticDeg == null ? state.headingMagneticDeg() : magneticDeg,
                state.satellites());
        return false;
    }

    private void motion(@Nullable Double knots, @Nullable Double courseDeg) {
        if (knots == null) {
            return;
        }
        double speedMps = knots * KNOT_MPS;
        state = new OwnShip(
                state.gpsTime(),
                state.position(),
                state.receivedAt(),
                speedMps,
                speedMps < COURSE_FLOOR_MPS || courseDeg == null ? null : Bearings.wrap360(courseDeg),
                state.headingTrueDeg(),
                state.headingMagneticDeg(),
                state.satellites());
    }

    private boolean position(
            String time,
            String lat,
            String northSouth,
            String lon,
            String eastWest,
            @Nullable Integer satellites,
            Instant receivedAt)
            throws NmeaSentence.BadSentenceException {
        if (lat.isEmpty() || lon.isEmpty()) {
            return false;
        }
        Position place = new Position(angle(lat, northSouth, "N", "S"), angle(lon, eastWest, "E", "W"));
        state = new OwnShip(
                instant(time),
                place,
                receivedAt,
                state.speedMps(),
                state.courseDeg(),
                state.headingTrueDeg(),
                state.headingMagneticDeg(),
                satellites == null ? state.satellites() : satellites);
        return true;
    }

    /** Time of day with the last date heard; without a date, null (never guessed from this machine's clock). */
    private @Nullable Instant instant(String time) {
        if (time.length() < 6 || date == null) {
            return null;
        }
        LocalTime ofDay = LocalTime.of(
                        Integer.parseInt(time.substring(0, 2)),
                        Integer.parseInt(time.substring(2, 4)),
                        Math.min(59, Integer.parseInt(time.substring(4, 6))))
                .plusNanos(time.length() > 7 ? Math.round(Double.parseDouble("0" + time.substring(6)) * 1e9) : 0);
        return date.atTime(ofDay).toInstant(ZoneOffset.UTC);
    }

    /** Degrees and minutes run together: ddmm.mmm or dddmm.mmm. */
    private static double angle(String text, String side, String positive, String negative)
            throws NmeaSentence.BadSentenceException {
        double raw = Double.parseDouble(text);
        double degrees = Math.floor(raw / 100);
        double minutes = raw - degrees * 100;
        if (!(raw >= 0) || minutes >= 60) {
            throw new NmeaSentence.BadSentenceException("'" + text + "' is not degrees and minutes");
        }
        if (!side.equals(positive) && !side.equals(negative)) {
            throw new NmeaSentence.BadSentenceException(
                    "'" + side + "' after '" + text + "' should be " + positive + " or " + negative);
        }
        return (degrees + minutes / 60) * (side.equals(negative) ? -1 : 1);
    }

    private static double signed(String text, String side) {
        Double value = number(text);
        return value == null ? 0 : side.equals("W") ? -value : value;
    }

    private static @Nullable Double number(String text) {
        return text.isEmpty() ? null : Double.valueOf(text);
    }
}
