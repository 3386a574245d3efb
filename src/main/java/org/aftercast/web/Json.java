package org.aftercast.web;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import io.javalin.http.Context;
import java.io.IOException;
import org.aftercast.study.Words;

/** JSON as the pages get it: instants as UTC text, enums as their words, numbers that cannot be had as null. */
final class Json {

    static final JsonMapper MAPPER = JsonMapper.builder()
            .addModule(new JavaTimeModule())
            .addModule(new Jdk8Module())
            .addModule(ours())
            .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
            .build();

    private Json() {}

    /** Answers with a value. */
    static void answer(Context ctx, Object value) throws ApiException {
        try {
            ctx.contentType("application/json").result(MAPPER.writeValueAsBytes(value));
        } catch (JsonProcessingException impossible) {
            throw new ApiException(ApiException.Kind.FAILED, "the answer could not be written as JSON: " + impossible);
        }
    }

    /** The body as a JSON object. */
    static JsonNode body(Context ctx) throws ApiException {
        try {
            JsonNode node = MAPPER.readTree(ctx.bodyAsBytes());
            if (node == null || !node.isObject()) {
                throw ApiException.badInput("the request's body is not a JSON object");
            }
            return node;
        } catch (IOException bad) {
            throw ApiException.badInput("the request's body is not JSON");
        }
    }

    /** A text of a JSON object; refused when absent or blank. */
    static String text(JsonNode body, String field) throws ApiException {
        JsonNode value = body.get(field);
        if (value == null || !value.isTextual() || value.asText().isBlank()) {
            throw new ApiException(
                    ApiException.Kind.BAD_INPUT,
                    field + ": is missing",
                    java.util.List.of(new ApiException.Problem(field, "is missing")));
        }
        return value.asText().strip();
    }

    private static SimpleModule ours() {
        SimpleModule module = new SimpleModule("aftercast");
        module.addSerializer(new EnumWord());
        module.addSerializer(new Finite());
        module.addSerializer(double.class, new Finite());
        return module;
    }

    @SuppressWarnings("rawtypes")
    private static final class EnumWord extends StdSerializer<Enum> {
        private static final long serialVersionUID = 1L;

        EnumWord() {
            super(Enum.class);
        }

        @Override
        public void serialize(Enum value, JsonGenerator out, SerializerProvider provider) throws IOException {
            out.writeString(Words.of((Enum<?>) value));
        }
    }

    private static final class Finite extends StdSerializer<Double> {
        private static final long serialVersionUID = 1L;

        Finite() {
            super(Double.class);
        }

        @Override
        public void serialize(Double value, JsonGenerator out, SerializerProvider provider) throws IOException {
            if (Double.isFinite(value)) {
                out.writeNumber(value);
            } else {
                out.writeNull();
            }
        }
    }
}
