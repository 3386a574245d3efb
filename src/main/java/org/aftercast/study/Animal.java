package org.aftercast.study;

import org.jspecify.annotations.Nullable;

/**
 * One fish in the study.
 *
 * @param name its name or number, unique whatever the case of the letters
 * @param species common or scientific name where it differs from the study's, or null
 * @param group a column of choice for planned comparisons (treatment, control …), or null
 * @param notes free text, or null
 */
public record Animal(
        String name,
        @Nullable String species,
        @Nullable String group,
        @Nullable String notes) {

    public Animal {
        new Rules()
                .name("name", name)
                .line("species", species)
                .line("group", group)
                .note("notes", notes)
                .check();
    }

    /** An animal of which only the name is known. */
    public static Animal named(String name) {
        return new Animal(name, null, null, null);
    }
}
