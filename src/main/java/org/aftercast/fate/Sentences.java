package org.aftercast.fate;

import java.util.Locale;
import org.aftercast.behaviour.Sign;
import org.aftercast.behaviour.Turning;

/** Says a sign as a biologist would, from its numbers. */
final class Sentences {

    private Sentences() {}

    static String say(Sign sign, Turning.Kind kind) {
        double v = sign.value();
        double r = sign.reference();
        double hours = (sign.toS() - sign.fromS()) / 3600;
        return switch (sign.what()) {
            case STILL_HOURS ->
                f("It made no tailbeat during the last %s", time(v))
                        + (r > 0.02
                                ? f("; the longest rest before that lasted %s.", time(r))
                                : "; it had not rested before.");
            case MOTIONLESS_HOURS ->
                f("Nothing moved during the last %s (sampled too slowly to see tailbeats)", time(v))
                        + (r > 0.02
                                ? f("; the longest rest before that lasted %s.", time(r))
                                : "; it had not rested before.");
            case BREATHING ->
                v > 0.95
                        ? f(
                                "Nothing but sensor noise is left in the last %s (smoothness %.2f, 1 is pure noise): no breathing"
                                        + " movements.",
                                time(hours), v)
                        : f(
                                "Small smooth movements go on (smoothness %.2f, 1 is pure noise)%s: breathing, or swell on the"
                                        + " bottom.",
                                v, known(r) ? f(", %.2f in earlier rests", r) : "");
            case QUIETER_THAN_REST ->
                f(
                        "Its movement was %.0f %% of what it was in earlier rests: %s when it rested and breathed.",
                        100 * v, v < 0.93 ? "quieter than" : v > 1.07 ? "livelier than" : "as");
            case MOVED_LATER ->
                known(r)
                        ? f(
                                "The package was moved again for %s, %.0f° from the pose in which the animal swam.",
                                minutes(v), r)
                        : f("The package was moved again for %s.", minutes(v));
            case POSE_FIXED ->
                f("Its pose shifted by at most %.1f° over %s", v, time(hours))
                        + (known(r) ? f(" (up to %.1f° in earlier rests).", r) : ".");
            case POSE_WANDERS ->
                f("Though no tailbeat was seen, its pose kept turning: by %.0f° from one ten minutes to the next", v)
                        + (known(r) ? f(" (at most %.1f° in earlier rests).", r) : ".");
            case POSE_TURNED ->
                v > 100
                        ? f("It lies turned over: %.0f° from the pose in which it swam.", v)
                        : v > 35
                                ? f("It lies tilted %.0f° from the pose in which it swam.", v)
                                : f("It lies within %.0f° of the pose in which it swam.", v);
            case SANK -> f("It sank %.0f m at %.2f m/s without a tailbeat right before.", v, r);
            case CAME_TO_SITE_DEPTH -> f("It came to lie at %.0f m; the water at the release is %.0f m deep.", v, r);
            case DEPTH_STEADY ->
                v < 0.5
                        ? f("Depth stayed within %.2f m once the tide is taken out.", v)
                        : f("Depth still varied by %.1f m that no tide explains.", v);
            case POSE_STEP ->
                v < 20
                        ? f("The package's mean pose hardly changed (%.0f°; it varied by %.0f° before).", v, r)
                        : f("The package's mean pose turned by %.0f° and stayed so (it varied by %.0f° before).", v, r);
            case BEAT_STEP ->
                f(
                        "Tailbeat frequency %s %.2f times what it was (minutes varied by %.0f %% before).",
                        Math.abs(v) < 0.05 ? "stayed at" : v > 0 ? "rose to" : "fell to", Math.exp(v), 100 * r);
            case BEAT_FOR_LENGTH ->
                f(
                        "From then on it beat at %.2f Hz; an animal of its length would be expected near %.2f Hz, a longer one"
                                + " below.",
                        v, r);
            case AMPLITUDE_STEP ->
                f(
                        "Tailbeat amplitude %s %.2f times what it was.",
                        Math.abs(v) < 0.15 ? "stayed at" : v > 0 ? "rose to" : "fell to", Math.exp(v));
            case WARM ->
                v > 2
                        ? f("The package was %.1f °C warmer than the water at its depth.", v)
                        : f(
                                "Its temperature stayed within %.1f °C of the water at its depth.",
                                Math.max(0.1, Math.abs(v)));
            case WARMER_THAN_BEFORE ->
                v > 1
                        ? f("The package was %.1f °C warmer than the warmest water before (%.1f °C).", v, r)
                        : f("It was not warmer than the warmest water before (%.1f °C, difference %.1f °C).", r, v);
            case TEMPERATURE_FOLLOWS ->
                v > 2
                        ? f(
                                "Temperature no longer followed depth: it strayed %.1f times as far from the water's as before.",
                                v)
                        : f(
                                "Temperature went on following depth (%.1f °C of range) as before: the package was in open water.",
                                r);
            case ATTACK ->
                v == 0
                        ? "No burst came with the change."
                        : f("A burst %.1f times its swimming level came with the change", v)
                                + (r > 0 ? f(" (largest other burst %.1f).", r) : "; there was no other burst.");
            case NO_DEPTH ->
                f(
                        "Depth is known for %.0f %% of the time: a package afloat or on deck cannot be told from one inside another"
                                + " animal.",
                        100 * v);
            case CHANGED_HOURS -> f("The changed movement lasted %s.", time(v));
        };
    }

    static String time(double hours) {
        return timeLike(hours, hours);
    }

    /** A time in the unit in which another one would be said, so that the ends of an interval can be compared. */
    static String timeLike(double hours, double like) {
        return like < 2 ? f("%.0f min", hours * 60) : like < 48 ? f("%.1f h", hours) : f("%.1f d", hours / 24);
    }

    private static String minutes(double min) {
        return min < 1 ? "less than a minute" : f("%.0f min", min);
    }

    private static boolean known(double v) {
        return !Double.isNaN(v);
    }

    static String f(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
