package org.aftercast.voyage;

import java.util.LinkedHashMap;
import java.util.Map;

/** Names of columns as words for people. */
final class ColumnWords {

    private record Words(String name, String unit) {}

    private static final Map<String, Words> KNOWN = new LinkedHashMap<>();

    private static final Map<String, String> SYMBOLS = Map.of(
            "fightMin", "min",
            "airExposureS", "s",
            "waterTempC", "°C",
            "captureDepthM", "m",
            "lengthM", "m",
            "massKg", "kg");

    static {
        KNOWN.put("fightMin", new Words("fight", "per minute"));
        KNOWN.put("airExposureS", new Words("time in air", "per second"));
        KNOWN.put("waterTempC", new Words("water temperature", "per degree"));
        KNOWN.put("captureDepthM", new Words("depth of capture", "per metre"));
        KNOWN.put("lengthM", new Words("length", "per metre"));
        KNOWN.put("massKg", new Words("mass", "per kilogram"));
        KNOWN.put("injuryScore", new Words("injury", "per step"));
        KNOWN.put("reflexesMissing", new Words("reflexes missing", "each"));
        KNOWN.put("hookLocation", new Words("hook location", ""));
        KNOWN.put("hookType", new Words("hook", ""));
        KNOWN.put("hookLeft", new Words("hook left in", ""));
        KNOWN.put("anglerCode", new Words("angler", ""));
        KNOWN.put("handlerCode", new Words("handler", ""));
    }

    private ColumnWords() {}

    /** {@code fightMin} becomes "fight, per minute"; an unknown name stays as it is. */
    static String of(String column) {
        Words words = KNOWN.get(column);
        if (words != null) {
            return words.unit().isEmpty() ? words.name() : words.name() + ", " + words.unit();
        }
        return inPlaceOfNames(column);
    }

    /** {@code fightMin} becomes "fight"; an unknown name stays as it is. */
    static String name(String column) {
        Words words = KNOWN.get(column);
        return words == null ? column : words.name();
    }

    /** {@code fightMin = 12, all else average} becomes "fight 12 min, all else average". */
    static String withUnit(String text) {
        for (Map.Entry<String, String> known : SYMBOLS.entrySet()) {
            String head = known.getKey() + " = ";
            if (text.startsWith(head)) {
                int end = text.indexOf(',') < 0 ? text.length() : text.indexOf(',');
                return name(known.getKey()) + " " + text.substring(head.length(), end) + " " + known.getValue()
                        + text.substring(end);
            }
        }
        return inPlaceOfNames(text);
    }

    /** A text that begins with the name of a column, with words in its place. */
    static String inPlaceOfNames(String text) {
        for (Map.Entry<String, Words> known : KNOWN.entrySet()) {
            if (text.startsWith(known.getKey() + " ")) {
                return known.getValue().name() + text.substring(known.getKey().length());
            }
        }
        return text;
    }
}
