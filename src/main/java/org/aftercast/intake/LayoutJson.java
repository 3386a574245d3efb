package org.aftercast.intake;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.aftercast.recording.Channel;

/** A {@link DownloadLayout} to and from JSON; channels stand by their column name ({@code accXG}). */
public final class LayoutJson {

    private static final long LARGEST_BYTES = 1 << 20;

    private static final JsonMapper MAPPER = JsonMapper.builder(JsonFactory.builder()
                    .streamReadConstraints(
                            StreamReadConstraints.builder().maxNestingDepth(20).build())
                    .build())
            .addModule(new JavaTimeModule())
            .addModule(new SimpleModule()
                    .addSerializer(Channel.class, new ChannelWriter())
                    .addDeserializer(Channel.class, new ChannelReader()))
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .enable(SerializationFeature.INDENT_OUTPUT)
            .enable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .build();

    private LayoutJson() {}

    /** The layout as indented JSON that ends with a line feed. */
    public static String write(DownloadLayout layout) {
        try {
            return MAPPER.writeValueAsString(layout) + "\n";
        } catch (JsonProcessingException impossible) {
            throw new IllegalStateException("a layout could not be written as JSON", impossible);
        }
    }

    /**
     * Reads a layout file.
     *
     * @throws ImportException if the file is missing, is not JSON or is not a layout; names line and column
     */
    public static DownloadLayout read(Path file) throws ImportException {
        byte[] bytes;
        try {
            if (Files.size(file) > LARGEST_BYTES) {
                throw new ImportException(file.toString(), 0, 0, "is too large for a layout", "at most 1 MiB of JSON");
            }
            bytes = Files.readAllBytes(file);
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException missing) {
            throw new ImportException(file.toString(), 0, 0, "cannot be read", "a download layout as JSON");
        }
        return parse(file.toString(), new String(bytes, StandardCharsets.UTF_8));
    }

    /**
     * Reads a layout from text.
     *
     * @param file name used in errors
     * @throws ImportException if the text is not a layout
     */
    public static DownloadLayout parse(String file, String json) throws ImportException {
        try {
            DownloadLayout layout = MAPPER.readValue(json, DownloadLayout.class);
            if (layout == null) {
                throw new ImportException(file, 0, 0, "holds no layout", "a download layout as JSON");
            }
            return layout;
        } catch (JsonProcessingException problem) {
            JsonLocation at = problem.getLocation();
            throw new ImportException(
                    file,
                    at == null ? 0 : Math.max(0, at.getLineNr()),
                    at == null ? 0 : Math.max(0, at.getColumnNr()),
                    "is not a download layout: " + firstLine(problem.getOriginalMessage()),
                    "the keys and values described in docs/interpretation/text.md");
        }
    }

    private static String firstLine(String message) {
        int end = message.indexOf('\n');
        return end < 0 ? message : message.substring(0, end);
    }

    private static final class ChannelWriter extends JsonSerializer<Channel> {
        @Override
        public void serialize(Channel value, JsonGenerator out, SerializerProvider provider) throws IOException {
            out.writeString(value.columnName());
        }
    }

    private static final class ChannelReader extends StdDeserializer<Channel> {
        private static final long serialVersionUID = 1L;

        ChannelReader() {
            super(Channel.class);
        }

        @Override
        public Channel deserialize(JsonParser in, DeserializationContext context) throws IOException {
            String name = in.getValueAsString();
            for (Channel channel : Channel.values()) {
                if (channel.columnName().equals(name)) {
                    return channel;
                }
            }
            StringBuilder known = new StringBuilder();
            for (Channel channel : Channel.values()) {
                known.append(known.isEmpty() ? "" : ", ").append(channel.columnName());
            }
            throw context.weirdStringException(String.valueOf(name), Channel.class, "channels are " + known);
        }
    }
}
