package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.RecordEnd;
import org.aftercast.fate.Sighting;
import org.jspecify.annotations.Nullable;

/**
 * Settings from a file: the {@code settings} of a result ({@code aftercast read --json}), or that object alone. What the
 * file leaves out keeps its default; a name that no setting has is an error.
 */
public final class SettingsFile {

    private static final long MOST_BYTES = 512L << 20;

    private static final JsonMapper MAPPER =
            JsonMapper.builder().addModule(new JavaTimeModule()).build();

    private SettingsFile() {}

    /**
     * Reads a file.
     *
     * @throws BadInputException if it is no such file; the message says what and where
     */
    public static Settings read(Path file) throws IOException, BadInputException {
        JsonNode tree = tree(file);
        JsonNode given = tree.path("format").asText("").equals(ReadingDocument.FORMAT) ? tree.path("settings") : tree;
        if (!given.isObject()) {
            throw new BadInputException(
                    file + ": holds no settings; accepted: an object with motion, behaviour and fate");
        }
        ObjectNode settings = MAPPER.valueToTree(Settings.defaults());
        overlay(settings, (ObjectNode) given, "", file);
        try {
            return MAPPER.treeToValue(settings, Settings.class);
        } catch (JsonProcessingException bad) {
            Throwable cause = bad.getCause() instanceof IllegalArgumentException own ? own : null;
            throw new BadInputException(file + ": " + (cause == null ? bad.getOriginalMessage() : cause.getMessage()));
        }
    }

    /**
     * What was known beside the recording when a result was made ({@code known}); nothing where the file is settings alone.
     *
     * @throws BadInputException if the file cannot be understood
     */
    public static ReadContext known(Path file) throws IOException, BadInputException {
        JsonNode known = tree(file).path("known");
        if (!known.isObject()) {
            return ReadContext.nothingKnown();
        }
        try {
            List<Sighting> sightings = new ArrayList<>();
            Instant first = Instant.EPOCH; // only differences count below; see ReadRecording
            JsonNode start = tree(file).at("/recording/startUtc");
            if (start.isTextual()) {
                first = Instant.parse(start.textValue());
            }
            for (JsonNode seen : known.path("sightings")) {
                Instant at = instant(seen.path("atUtc"));
                sightings.add(new Sighting(
                        Sighting.What.valueOf(constant(seen.path("what").asText())),
                        at != null
                                ? (Double) (Duration.between(first, at).toNanos() / 1e9)
                                : seen.path("atS").isNumber()
                                        ? (Double) seen.path("atS").doubleValue()
                                        : null,
                        seen.path("note").asText("")));
            }
            JsonNode end = known.path("recordEnd");
            return new ReadContext(
                    instant(known.path("releaseUtc")),
                    instant(known.path("detachUtc")),
                    instant(known.path("plannedDetachUtc")),
                    RestsOnBottom.valueOf(constant(known.path("restsOnBottom").asText("unknown"))),
                    known.path("siteDepthM").isNumber()
                            ? known.path("siteDepthM").doubleValue()
                            : null,
                    null,
                    null,
                    end.isTextual() ? RecordEnd.valueOf(constant(end.textValue())) : null,
                    sightings,
                    null);
        } catch (IllegalArgumentException | DateTimeException bad) {
            throw new BadInputException(
                    file + ": known: " + bad.getMessage() + "; accepted: as docs/reading.schema.json says");
        }
    }

    private static @Nullable Instant instant(JsonNode node) {
        return node.isTextual() ? Instant.parse(node.textValue()) : null;
    }

    private static String constant(String word) {
        return word.toUpperCase(Locale.ROOT).replace('-', '_');
    }

    private static JsonNode tree(Path file) throws IOException, BadInputException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + ": no such file; accepted: the JSON of a result, or its settings alone");
        }
        if (Files.size(file) > MOST_BYTES) {
            throw new BadInputException(
                    file + ": larger than 512 MB; accepted: the JSON of a result, or its settings alone");
        }
        try {
            return MAPPER.readTree(Files.readString(file, StandardCharsets.UTF_8));
        } catch (MalformedInputException notText) {
            throw new BadInputException(file + ": not UTF-8 text; accepted: JSON");
        } catch (JsonProcessingException bad) {
            var at = bad.getLocation();
            throw new BadInputException(file + ": line " + (at == null ? 1 : at.getLineNr()) + ", column "
                    + (at == null ? 1 : at.getColumnNr()) + ": not JSON (" + bad.getOriginalMessage() + ")");
        }
    }

    private static void overlay(ObjectNode onto, ObjectNode given, String where, Path file) throws BadInputException {
        for (Map.Entry<String, JsonNode> field : given.properties()) {
            String name = where + field.getKey();
            JsonNode known = onto.get(field.getKey());
            if (known == null) {
                StringBuilder names = new StringBuilder();
                onto.fieldNames()
                        .forEachRemaining(
                                n -> names.append(names.isEmpty() ? "" : ", ").append(n));
                throw new BadInputException(file + ": no setting is called " + name + "; accepted: " + names);
            }
            if (known instanceof ObjectNode part && field.getValue() instanceof ObjectNode inner) {
                overlay(part, inner, name + ".", file);
            } else {
                onto.set(field.getKey(), field.getValue());
            }
        }
    }
}
