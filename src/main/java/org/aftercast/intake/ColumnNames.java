package org.aftercast.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.recording.Channel;
import org.jspecify.annotations.Nullable;

/** What the name of a column says: which quantity, which axis, which unit. */
final class ColumnNames {

    private static final Map<String, Unit> UNITS = Map.ofEntries(
            Map.entry("g", Unit.G),
            Map.entry("gs", Unit.G),
            Map.entry("mg", Unit.MILLI_G),
            Map.entry("m/s2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("m/s^2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("m/s/s", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("m/s²", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("m s-2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("ms-2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("ms2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("mps2", Unit.METRE_PER_SECOND_SQUARED),
            Map.entry("m", Unit.METRE),
            Map.entry("meter", Unit.METRE),
            Map.entry("metre", Unit.METRE),
            Map.entry("meters", Unit.METRE),
            Map.entry("metres", Unit.METRE),
            Map.entry("cm", Unit.CENTIMETRE),
            Map.entry("ft", Unit.FOOT),
            Map.entry("feet", Unit.FOOT),
            Map.entry("dbar", Unit.DECIBAR),
            Map.entry("decibar", Unit.DECIBAR),
            Map.entry("bar", Unit.BAR),
            Map.entry("mbar", Unit.MILLIBAR),
            Map.entry("hpa", Unit.MILLIBAR),
            Map.entry("kpa", Unit.KILOPASCAL),
            Map.entry("pa", Unit.PASCAL),
            Map.entry("psi", Unit.PSI),
            Map.entry("c", Unit.CELSIUS),
            Map.entry("°c", Unit.CELSIUS),
            Map.entry("degc", Unit.CELSIUS),
            Map.entry("deg c", Unit.CELSIUS),
            Map.entry("celsius", Unit.CELSIUS),
            Map.entry("f", Unit.FAHRENHEIT),
            Map.entry("°f", Unit.FAHRENHEIT),
            Map.entry("degf", Unit.FAHRENHEIT),
            Map.entry("deg f", Unit.FAHRENHEIT),
            Map.entry("fahrenheit", Unit.FAHRENHEIT),
            Map.entry("k", Unit.KELVIN),
            Map.entry("kelvin", Unit.KELVIN));

    private static final List<String> OTHER_SENSORS =
            List.of("gyr", "mag", "rot", "compass", "angular", "heading", "batt", "volt", "light", "odba", "vedba");

    private ColumnNames() {}

    /**
     * What a name says.
     *
     * @param channel the channel
     * @param unit the unit, or null if the name holds none
     */
    record Meaning(Channel channel, @Nullable Unit unit) {}

    /** The channel that a name stands for, or null. */
    static @Nullable Meaning meaning(String name) {
        for (Channel channel : Channel.values()) {
            if (channel.columnName().equalsIgnoreCase(name.strip())) {
                return new Meaning(channel, ownUnit(channel));
            }
        }
        String bracketed = bracketed(name);
        List<String> tokens = tokens(name);
        for (String token : tokens) {
            for (String other : OTHER_SENSORS) {
                if (token.startsWith(other)) {
                    return null;
                }
            }
        }
        Unit unit = bracketed == null ? null : unit(bracketed);
        if (unit == null && tokens.size() > 1) {
            unit = unit(tokens.get(tokens.size() - 1));
            if (unit == null && tokens.size() > 2) {
                unit = unit(tokens.get(tokens.size() - 2) + " " + tokens.get(tokens.size() - 1));
            }
            if (unit != null) {
                tokens = tokens.subList(0, tokens.size() - 1);
            }
        }
        Channel channel = channel(tokens);
        if (channel == null) {
            return null;
        }
        return new Meaning(channel, unit != null && unit.quantity() == Unit.Quantity.of(channel) ? unit : null);
    }

    private static @Nullable Channel channel(List<String> tokens) {
        for (String token : tokens) {
            if (token.startsWith("depth") || token.startsWith("tiefe") || token.startsWith("profond")) {
                return Channel.DEPTH;
            }
            if (token.startsWith("press") || token.equals("druck")) {
                return Channel.PRESSURE;
            }
            if (token.startsWith("temp")) {
                return Channel.TEMPERATURE;
            }
        }
        String rest = String.join("", tokens);
        for (String word : List.of("acceleration", "accelerometer", "accelero", "accel", "acc", "axis", "axe")) {
            rest = rest.replace(word, "");
        }
        if (rest.length() == 2 && (rest.startsWith("a") || rest.endsWith("a"))) {
            rest = rest.replace("a", "");
        }
        return switch (rest) {
            case "x" -> Channel.ACCELERATION_X;
            case "y" -> Channel.ACCELERATION_Y;
            case "z" -> Channel.ACCELERATION_Z;
            default -> null;
        };
    }

    /** The unit that a text names, or null. */
    static @Nullable Unit unit(String text) {
        return UNITS.get(text.strip().toLowerCase(Locale.ROOT));
    }

    private static @Nullable String bracketed(String name) {
        for (String pair : List.of("()", "[]", "{}")) {
            int open = name.indexOf(pair.charAt(0));
            int close = name.lastIndexOf(pair.charAt(1));
            if (open >= 0 && close > open) {
                return name.substring(open + 1, close);
            }
        }
        return null;
    }

    /** Lower-case words of a name without what stands in brackets. */
    static List<String> tokens(String name) {
        String bare = name.replaceAll("[(\\[{][^)\\]}]*[)\\]}]", " ")
                .replaceAll("([a-z])([A-Z])", "$1 $2")
                .toLowerCase(Locale.ROOT);
        List<String> tokens = new ArrayList<>();
        for (String token : bare.split("[^\\p{L}0-9/²^°]+", -1)) {
            if (!token.isEmpty()) {
                tokens.add(token);
            }
        }
        return tokens;
    }

    private static Unit ownUnit(Channel channel) {
        return switch (Unit.Quantity.of(channel)) {
            case ACCELERATION -> Unit.G;
            case DEPTH -> Unit.METRE;
            case PRESSURE -> Unit.DECIBAR;
            case TEMPERATURE -> Unit.CELSIUS;
        };
    }
}
