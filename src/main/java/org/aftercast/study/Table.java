package org.aftercast.study;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * How one record type lies in its table: each component is the column of the same name, the first ones are the key.
 *
 * <p>Text, numbers and whole numbers as they are; instants as UTC text to the millisecond; enums as their word;
 * anything else as JSON.
 *
 * @param <R> the record type
 */
final class Table<R extends Record> {

    private static final DateTimeFormatter UTC_MS =
            DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss.SSS'Z'").withZone(ZoneOffset.UTC);

    static final ObjectMapper JSON = new ObjectMapper().configure(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS, true);

    private final String name;
    private final Class<R> type;
    private final int keyCount;
    private final RecordComponent[] components;

    Table(String name, Class<R> type, int keyCount) {
        this.name = name;
        this.type = type;
        this.keyCount = keyCount;
        this.components = type.getRecordComponents();
    }

    String name() {
        return name;
    }

    Class<R> type() {
        return type;
    }

    List<String> keyColumns() {
        return Arrays.stream(components)
                .limit(keyCount)
                .map(RecordComponent::getName)
                .toList();
    }

    private List<String> columns() {
        return Arrays.stream(components).map(RecordComponent::getName).toList();
    }

    /** The values to store, by column. */
    Map<String, @Nullable Object> toColumns(R row) {
        Map<String, @Nullable Object> values = new LinkedHashMap<>();
        for (RecordComponent component : components) {
            try {
                values.put(component.getName(), stored(component.getAccessor().invoke(row)));
            } catch (IllegalAccessException | InvocationTargetException impossible) {
                throw new IllegalStateException("a record's accessor is public", impossible);
            }
        }
        return values;
    }

    /** The stored form of a key's parts. */
    List<Object> keyOf(R row) {
        List<Object> key = new ArrayList<>();
        Map<String, @Nullable Object> columns = toColumns(row);
        for (String column : keyColumns()) {
            key.add(Objects.requireNonNull(columns.get(column)));
        }
        return key;
    }

    static String keyText(List<?> key) {
        return key.stream().map(String::valueOf).collect(Collectors.joining(" / "));
    }

    /** The values of the current row, by column, in the types of {@link #toColumns}. */
    Map<String, @Nullable Object> columnsOf(ResultSet rows) throws SQLException {
        Map<String, @Nullable Object> values = new LinkedHashMap<>();
        for (RecordComponent component : components) {
            String column = component.getName();
            Object value;
            Class<?> kind = component.getType();
            if (kind == double.class || kind == Double.class) {
                value = rows.getDouble(column);
            } else if (kind == int.class || kind == Integer.class || kind == long.class || kind == Long.class) {
                value = rows.getLong(column);
            } else {
                value = rows.getString(column);
            }
            values.put(column, rows.wasNull() ? null : value);
        }
        return values;
    }

    /** The record of stored values; its rules are checked again. */
    R toRecord(Map<String, @Nullable Object> values) {
        List<@Nullable Object> arguments = new ArrayList<>();
        List<Class<?>> types = new ArrayList<>();
        for (RecordComponent component : components) {
            arguments.add(live(component, values.get(component.getName())));
            types.add(component.getType());
        }
        try {
            Constructor<R> constructor = type.getDeclaredConstructor(types.toArray(Class<?>[]::new));
            return constructor.newInstance(arguments.toArray());
        } catch (InvocationTargetException failed) {
            if (failed.getCause() instanceof RuntimeException rule) {
                throw rule;
            }
            throw new IllegalStateException(failed.getCause());
        } catch (ReflectiveOperationException impossible) {
            throw new IllegalStateException("a record has its canonical constructor", impossible);
        }
    }

    static String toJson(Map<String, @Nullable Object> columns) {
        try {
            return JSON.writeValueAsString(columns);
        } catch (JsonProcessingException impossible) {
            throw new IllegalStateException("columns hold text and numbers only", impossible);
        }
    }

    static String utc(Instant instant) {
        return UTC_MS.format(instant);
    }

    String selectAll() {
        return "SELECT * FROM \"" + name + "\" ORDER BY "
                + keyColumns().stream().map(Table::quoted).collect(Collectors.joining(", "));
    }

    String selectOne() {
        return "SELECT * FROM \"" + name + "\" WHERE " + keyCondition();
    }

    String insert() {
        return "INSERT INTO \"" + name + "\" ("
                + columns().stream().map(Table::quoted).collect(Collectors.joining(", ")) + ") VALUES ("
                + columns().stream().map(c -> "?").collect(Collectors.joining(", ")) + ")";
    }

    String update() {
        return "UPDATE \"" + name + "\" SET "
                + columns().stream().map(c -> quoted(c) + " = ?").collect(Collectors.joining(", "))
                + " WHERE " + keyCondition();
    }

    String delete() {
        return "DELETE FROM \"" + name + "\" WHERE " + keyCondition();
    }

    private String keyCondition() {
        return keyColumns().stream().map(c -> quoted(c) + " = ?").collect(Collectors.joining(" AND "));
    }

    private static String quoted(String column) {
        return "\"" + column + "\"";
    }

    static @Nullable Object stored(@Nullable Object value) {
        if (value == null || value instanceof String || value instanceof Double || value instanceof Long) {
            return value;
        }
        if (value instanceof Integer whole) {
            return whole.longValue();
        }
        if (value instanceof Instant instant) {
            return utc(instant);
        }
        if (value instanceof Enum<?> word) {
            return Words.of(word);
        }
        try {
            return JSON.writeValueAsString(value);
        } catch (JsonProcessingException failure) {
            throw new IllegalArgumentException("cannot be stored: " + value, failure);
        }
    }

    @SuppressWarnings({"unchecked", "rawtypes"})
    private static @Nullable Object live(RecordComponent component, @Nullable Object value) {
        if (value == null) {
            return null;
        }
        Class<?> kind = component.getType();
        if (kind == int.class || kind == Integer.class) {
            return Math.toIntExact((Long) value);
        }
        if (kind.isPrimitive() || kind == String.class || kind == Double.class || kind == Long.class) {
            return value;
        }
        if (kind == Instant.class) {
            return Instant.parse((String) value);
        }
        if (kind.isEnum()) {
            return Words.parse((Class<? extends Enum>) kind, (String) value);
        }
        try {
            return JSON.readValue((String) value, JSON.getTypeFactory().constructType(component.getGenericType()));
        } catch (JsonProcessingException failure) {
            throw new IllegalArgumentException(component.getName() + ": not the JSON expected: " + value, failure);
        }
    }
}
