package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.lang.reflect.AnnotatedParameterizedType;
import java.lang.reflect.AnnotatedType;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.aftercast.estimate.Plan;
import org.jspecify.annotations.Nullable;

/**
 * Writes docs/estimate.schema.json and docs/plan.schema.json from the result records: the structure from the classes, the descriptions from the
 * Javadoc of their components. Run by hand with the project folder as argument; a test holds the file to it.
 */
final class EstimateSchema {

    private static final ObjectMapper MAPPER = new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

    private final Path sources;
    private final Map<String, ObjectNode> definitions = new TreeMap<>();
    private final Set<Class<?>> seen = new LinkedHashSet<>();

    private EstimateSchema(Path base) {
        this.sources = base.resolve("src/main/java");
    }

    public static void main(String[] args) throws IOException {
        Path base = Path.of(args[0]);
        Files.writeString(base.resolve("docs/estimate.schema.json"), text(base));
        Files.writeString(base.resolve("docs/plan.schema.json"), planText(base));
    }

    static String text(Path base) throws IOException {
        return text(base, EstimateDocument.class, "Result of aftercast estimate");
    }

    static String planText(Path base) throws IOException {
        return text(base, Plan.class, "Result of aftercast plan");
    }

    private static String text(Path base, Class<?> type, String title) throws IOException {
        EstimateSchema schema = new EstimateSchema(base);
        ObjectNode root = MAPPER.createObjectNode();
        root.put("$schema", "https://json-schema.org/draft/2020-12/schema");
        root.put("title", title);
        root.setAll(schema.record(type));
        ObjectNode defs = root.putObject("$defs");
        schema.definitions.forEach(defs::set);
        try {
            return MAPPER.writeValueAsString(root) + "\n";
        } catch (JsonProcessingException failure) {
            throw new IOException(failure);
        }
    }

    private ObjectNode record(Class<?> type) throws IOException {
        Map<String, String> words = javadoc(type);
        ObjectNode node = MAPPER.createObjectNode();
        node.put("type", "object");
        node.put("additionalProperties", false);
        ArrayNode required = node.putArray("required");
        ObjectNode properties = node.putObject("properties");
        for (RecordComponent component : type.getRecordComponents()) {
            required.add(component.getName());
            ObjectNode property = of(component.getAnnotatedType());
            String description = words.get(component.getName());
            if (description == null) {
                throw new IOException(type.getName() + "." + component.getName() + " has no @param");
            }
            property.put("description", description);
            properties.set(component.getName(), property);
        }
        return node;
    }

    private ObjectNode of(AnnotatedType annotated) throws IOException {
        ObjectNode plain = plain(annotated);
        if (!annotated.isAnnotationPresent(Nullable.class)) {
            return plain;
        }
        ObjectNode either = MAPPER.createObjectNode();
        either.putArray("anyOf").add(plain).add(MAPPER.createObjectNode().put("type", "null"));
        return either;
    }

    private ObjectNode plain(AnnotatedType annotated) throws IOException {
        Type type = annotated.getType();
        ObjectNode node = MAPPER.createObjectNode();
        if (type instanceof ParameterizedType generic && annotated instanceof AnnotatedParameterizedType parts) {
            AnnotatedType[] arguments = parts.getAnnotatedActualTypeArguments();
            if (generic.getRawType() == List.class) {
                node.put("type", "array").set("items", of(arguments[0]));
            } else if (generic.getRawType() == Map.class) {
                node.put("type", "object").set("additionalProperties", of(arguments[1]));
            } else {
                throw new IOException("no schema for " + type);
            }
            return node;
        }
        Class<?> raw = (Class<?>) type;
        if (raw == String.class) {
            node.put("type", "string");
        } else if (raw == int.class || raw == Integer.class || raw == long.class || raw == Long.class) {
            node.put("type", "integer");
        } else if (raw == double.class || raw == Double.class) {
            node.put("type", "number");
        } else if (raw.isEnum()) {
            ArrayNode values = node.put("type", "string").putArray("enum");
            for (Object value : raw.getEnumConstants()) {
                values.add(((Enum<?>) value).name());
            }
        } else if (raw.isRecord()) {
            String name =
                    raw.getName().substring(raw.getPackageName().length() + 1).replace('$', '.');
            if (seen.add(raw)) {
                definitions.put(name, record(raw));
            }
            node.put("$ref", "#/$defs/" + name);
        } else {
            throw new IOException("no schema for " + type);
        }
        return node;
    }

    /** The @param lines of the Javadoc that stands before this record. */
    private Map<String, String> javadoc(Class<?> type) throws IOException {
        Class<?> top = type;
        while (top.getDeclaringClass() != null) {
            top = top.getDeclaringClass();
        }
        String source = Files.readString(sources.resolve(top.getName().replace('.', '/') + ".java"));
        Matcher declared =
                Pattern.compile("record " + type.getSimpleName() + "\\s*\\(").matcher(source);
        if (!declared.find()) {
            throw new IOException(type + " is not declared in its source");
        }
        String before = source.substring(0, declared.start());
        int start = before.lastIndexOf("/**");
        String comment = before.substring(start, before.indexOf("*/", start)).replaceAll("(?m)^\\s*\\*", "");
        Map<String, String> words = new TreeMap<>();
        String[] parts = comment.split("@param\\s+");
        for (int i = 1; i < parts.length; i++) {
            String[] nameAndText = parts[i].strip().split("\\s+", 2);
            words.put(nameAndText[0], plainText(nameAndText.length > 1 ? nameAndText[1] : ""));
        }
        return words;
    }

    private static String plainText(String text) {
        return text.replaceAll("\\{@(?:code|link) #?([^}]*)}", "$1")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replaceAll("\\s+", " ")
                .strip();
    }
}
