package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdScalarSerializer;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.nio.charset.StandardCharsets;

/** Results as JSON: indented, fields in the order of the records, a number that is not finite is a fault. */
final class ResultJson {

    private static final ObjectMapper MAPPER = new ObjectMapper()
            .enable(SerializationFeature.INDENT_OUTPUT)
            .enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS)
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .registerModule(new JavaTimeModule())
            .registerModule(new SimpleModule()
                    .addSerializer(new FiniteDouble(Double.class))
                    .addSerializer(new FiniteDouble(Double.TYPE)));

    private ResultJson() {}

    /**
     * UTF-8 bytes, ending in a line feed.
     *
     * @throws IllegalStateException if a number is NaN or infinite: a result must say so in words instead
     */
    static byte[] of(Object result) {
        try {
            return (MAPPER.writeValueAsString(result).replace("\r\n", "\n") + "\n").getBytes(StandardCharsets.UTF_8);
        } catch (JsonProcessingException failure) {
            throw new IllegalStateException("result cannot be written as JSON: " + failure.getMessage(), failure);
        }
    }

    /** JSON text as a tree, to stand inside a result. */
    static JsonNode tree(String json) {
        try {
            return MAPPER.readTree(json);
        } catch (JsonProcessingException failure) {
            throw new IllegalStateException("not JSON: " + failure.getMessage(), failure);
        }
    }

    private static final class FiniteDouble extends StdScalarSerializer<Double> {

        private static final long serialVersionUID = 1L;

        FiniteDouble(Class<?> type) {
            super(type, false);
        }

        @Override
        public void serialize(Double value, JsonGenerator out, SerializerProvider provider) throws IOException {
            if (!Double.isFinite(value)) {
                throw new IllegalStateException(
                        value + " at " + out.getOutputContext().pathAsPointer() + " is not a finite number");
            }
            out.writeNumber(value.doubleValue());
        }
    }
}
