package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdScalarSerializer;
import java.io.IOException;
import java.nio.charset.StandardCharsets;

/** Results as JSON: indented, fields in the order of the records, a number that is not finite is a fault. */
final class ResultJson {

    private static final ObjectMapper MAPPER = new ObjectMapper()
            .enable(SerializationFeature.INDENT_OUTPUT)
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
