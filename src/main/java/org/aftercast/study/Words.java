package org.aftercast.study;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Collectors;

/** The words of enums as they stand in the database and in tables: lower case, hyphens. */
public final class Words {

    private Words() {}

    /** {@code SWAM_OFF} becomes {@code swam-off}. */
    public static String of(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /**
     * Finds the value for a word; case and spaces or underscores for hyphens do not matter.
     *
     * @throws IllegalArgumentException if there is none; the message lists the words accepted
     */
    public static <E extends Enum<E>> E parse(Class<E> type, String word) {
        String asName = word.strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
        for (E value : type.getEnumConstants()) {
            if (value.name().equals(asName)) {
                return value;
            }
        }
        throw new IllegalArgumentException("\"" + word + "\" is none of " + all(type));
    }

    /** All words of a type, separated by commas. */
    public static String all(Class<? extends Enum<?>> type) {
        return Arrays.stream(type.getEnumConstants()).map(Words::of).collect(Collectors.joining(", "));
    }
}
