package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * A row of a search's table as a person would say it: "heard, gain step 2, all round for 60 s". Figures stand as they were
 * noted, except frequencies, which have three decimals. A value that is not known is left as it stands; nothing is judged.
 */
public final class SeekWords {

    private final Map<String, String> values = new LinkedHashMap<>();
    private final List<String> parts = new ArrayList<>();

    private SeekWords(String text) {
        for (String part : text.split("[\\s;]+", -1)) {
            int equals = part.indexOf('=');
            if (equals > 0) {
                values.put(part.substring(0, equals).toLowerCase(Locale.ROOT), part.substring(equals + 1));
            } else if (!part.isEmpty()) {
                values.put(part, "");
            }
        }
    }

    /**
     * In words.
     *
     * @param kind kind of the row
     * @param values its last cell: name=value pairs
     * @return possibly empty
     */
    public static String of(String kind, String values) {
        SeekWords words = new SeekWords(values);
        words.say(kind);
        return words.text();
    }

    private void say(String kind) {
        switch (kind) {
            case "start" -> {
                with("sd_m", "sure to within %s m");
                with("planned", "planned to come off %s");
            }
            case "beacon" -> beacon();
            case "receiver" -> {
                with("antenna_height_m", "antenna %s m above the water");
                list("steps_db", "gain steps take off ", " dB");
            }
            case "boat" -> {
                speed("makes ");
                with("fuel_h", "fuel for %s h");
            }
            case "wind" -> {
                speed("");
                with("from_deg", "from %s°");
            }
            case "current" -> {
                speed("");
                with("to_deg", "towards %s°");
            }
            case "tide" -> {
                speed("strongest ");
                with("to_deg", "towards %s°");
                with("period_h", "every %s h");
                with("sd_share", "strength sure to a share of %s");
            }
            case "declination" -> with("deg", "%s° east of true north");
            case "deviation" -> {
                with("deviation_deg", "%s°");
                with("heading_deg", "on compass heading %s°");
            }
            case "bearing" -> bearing();
            case "listen" -> listen();
            case "sweep" -> sweep();
            case "sighting" -> sighting();
            case "drift" -> drift();
            case "end" -> end();
            case "undo" -> with("line", "takes back row %s");
            default -> {}
        }
    }

    private void beacon() {
        String mhz = values.remove("frequency_mhz");
        if (mhz != null) {
            parts.add(megahertz(mhz) + " MHz");
        }
        with("range_nm", "heard half the time at %s NM");
        with("height_m", "%s m above the water");
        with("battery_until", "battery until %s");
    }

    private void bearing() {
        with("deg", "%s°");
        source();
        with("sd_deg", "sure to within %s°");
        gain();
        antenna();
    }

    private void listen() {
        String heard = values.remove("heard");
        if (heard != null) {
            parts.add(heard.equals("yes") ? "heard" : heard.equals("no") ? "not heard" : "heard: " + heard);
        }
        gain();
        String from = values.remove("from_deg");
        String to = values.remove("to_deg");
        String where = from == null || to == null ? "all round" : "from " + from + "° to " + to + "°";
        String seconds = values.remove("seconds");
        parts.add(where + (seconds == null ? "" : " for " + seconds + " s"));
        antenna();
    }

    private void sweep() {
        String levels = values.remove("levels");
        if (levels != null) {
            List<String> told = new ArrayList<>();
            for (String level : levels.split("/", -1)) {
                String[] pair = level.split(":", 2);
                if (pair.length < 2) {
                    told.add(level);
                } else if (pair[1].equals("-")) {
                    told.add(pair[0] + "° not heard");
                } else if (pair[1].endsWith("!")) {
                    told.add(pair[0] + "° " + pair[1].substring(0, pair[1].length() - 1) + " dB or more");
                } else {
                    told.add(pair[0] + "° " + pair[1] + " dB");
                }
            }
            parts.add(String.join(", ", told));
        }
        source();
        gain();
        antenna();
    }

    private void sighting() {
        String seen = values.remove("seen");
        boolean looked = "no".equals(seen);
        if (seen != null) {
            parts.add(looked ? "looked for, not seen" : seen.equals("yes") ? "seen" : "seen: " + seen);
        }
        with("bearing_deg", "at %s° true");
        with("distance_m", looked ? "within %s m" : "%s m off");
    }

    private void drift() {
        speed("");
        with("to_deg", "towards %s°");
        String what = values.remove("what");
        if (what != null) {
            parts.add(
                    what.equals("stopped-boat") ? "measured with the boat, stopped" : "measured with a " + plain(what));
        }
        String hours = values.remove("hours");
        if (hours != null) {
            parts.add("over " + shortTime(hours));
        }
    }

    private static String shortTime(String hours) {
        try {
            double h = Double.parseDouble(hours);
            return h > 0 && h < 1 ? Math.round(60 * h) + " min" : hours + " h";
        } catch (NumberFormatException asItStands) {
            return hours + " h";
        }
    }

    private void end() {
        String outcome = values.remove("outcome");
        if (outcome != null) {
            parts.add(ended(outcome));
        }
        with("hours", "after %s h");
        with("miles", "%s NM run");
    }

    /** How a search ended, in words. */
    static String ended(String outcome) {
        return switch (outcome) {
            case "retrieved" -> "retrieved from the water";
            case "stranded" -> "found ashore";
            case "handed-in" -> "handed in by somebody";
            case "abandoned" -> "search abandoned";
            default -> plain(outcome);
        };
    }

    /** A frequency with three decimals: beacons are told apart by kilohertz. */
    static String megahertz(String text) {
        try {
            return String.format(Locale.ROOT, "%.3f", Double.parseDouble(text));
        } catch (NumberFormatException asItStands) {
            return text;
        }
    }

    private void source() {
        String source = values.remove("source");
        String heading = values.remove("heading_deg");
        if (source == null) {
            return;
        }
        parts.add(
                switch (source) {
                    case "true" -> "true";
                    case "hand-compass" -> "by hand compass";
                    case "bow-and-compass" -> "off the bow, boat's compass " + heading + "°";
                    case "bow-and-true-heading" -> "off the bow, heading " + heading + "° true";
                    case "bow-and-course" -> "off the bow, course over ground " + heading + "°";
                    default -> plain(source);
                });
    }

    private void gain() {
        with("gain", "gain step %s");
    }

    private void antenna() {
        String antenna = values.remove("antenna");
        if (antenna != null) {
            parts.add(
                    switch (antenna) {
                        case "three-elements" -> "antenna with three elements";
                        case "two-elements" -> "antenna with two elements";
                        case "loop" -> "loop antenna";
                        case "whip" -> "whip antenna";
                        default -> "antenna " + plain(antenna);
                    });
        }
    }

    private void speed(String before) {
        String knots = values.remove("speed_kn");
        String mps = values.remove("speed_mps");
        if (knots != null) {
            parts.add(before + knots + " kn");
        }
        if (mps != null) {
            parts.add(before + mps + " m/s");
        }
    }

    private void list(String name, String before, String after) {
        String text = values.remove(name);
        if (text != null) {
            parts.add(before + String.join(", ", List.of(text.split("/", -1))) + after);
        }
    }

    private void with(String name, String words) {
        String value = values.remove(name);
        if (value != null) {
            parts.add(words.replace("%s", value));
        }
    }

    private String text() {
        String name = values.remove("package");
        values.forEach((left, value) -> parts.add(value.isEmpty() ? left : plain(left) + " " + value));
        String said = String.join(", ", parts);
        return name == null ? said : said.isEmpty() ? "package " + name : name + ": " + said;
    }

    private static String plain(@Nullable String word) {
        return Objects.requireNonNullElse(word, "").replace('-', ' ').replace('_', ' ');
    }
}
