package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import org.aftercast.recording.SampleRange;
import org.aftercast.sim.Scenario;
import org.aftercast.sim.TrueKind;
import org.aftercast.sim.Truth;

/** The truth of an invented recording as JSON; {@code docs/simulate.md} explains every field. */
final class TruthJson {

    private TruthJson() {}

    /** UTF-8 bytes. */
    static byte[] of(Truth truth) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try {
            write(truth, bytes);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return bytes.toByteArray();
    }

    private static void write(Truth truth, OutputStream target) throws IOException {
        Scenario scenario = truth.scenario();
        try (JsonGenerator out = new JsonFactory().createGenerator(target).useDefaultPrettyPrinter()) {
            out.writeStartObject();
            out.writeBooleanField("invented", true);
            out.writeStringField("note", "Simulated. Not a real animal, place or time.");
            out.writeStringField("scenario", scenario.name());
            out.writeNumberField("seed", truth.seed());
            out.writeStringField("startUtc", scenario.startUtc().toString());
            out.writeNumberField("sampleRateHz", scenario.logger().sampleRateHz());
            out.writeNumberField("durationH", scenario.logger().durationH());
            out.writeStringField("course", scenario.ending().course().word());
            out.writeObjectFieldStart("fate");
            out.writeStringField("call", truth.call());
            out.writeStringField("animal", truth.animalFate());
            out.writeStringField("recordEnd", truth.recordEnd());
            out.writeNumberField("releaseS", truth.releaseS());
            number(out, "changeS", truth.changeS());
            number(out, "detachS", truth.detachS());
            out.writeBooleanField("decidable", truth.decidable() == Truth.Decidable.YES);
            text(out, "undecidableBecause", truth.undecidableBecause());
            out.writeEndObject();
            animal(out, truth);
            mount(out, truth);
            bouts(out, truth);
            out.writeArrayFieldStart("bursts");
            for (Truth.TrueBurst burst : truth.bursts()) {
                out.writeStartObject();
                out.writeNumberField("atS", rounded(burst.atS(), 1e3));
                out.writeNumberField("durationS", rounded(burst.durationS(), 1e3));
                out.writeNumberField("rateRatio", rounded(burst.rateRatio(), 1e4));
                out.writeEndObject();
            }
            out.writeEndArray();
            out.writeArrayFieldStart("gaps");
            for (SampleRange gap : truth.gaps()) {
                out.writeStartObject();
                out.writeNumberField("fromSample", gap.fromSample());
                out.writeNumberField("toSample", gap.toSample());
                out.writeEndObject();
            }
            out.writeEndArray();
            beats(out, truth);
            out.writeEndObject();
        }
    }

    private static void animal(JsonGenerator out, Truth truth) throws IOException {
        Scenario scenario = truth.scenario();
        Scenario.Body body = scenario.body();
        out.writeObjectFieldStart("animal");
        out.writeNumberField("lengthM", rounded(body.lengthM(), 1e4));
        out.writeStringField("restsOnBottom", body.breathing() == Scenario.Breathing.CAN_REST ? "yes" : "no");
        out.writeNumberField("cruiseHz", rounded(body.cruiseHz(), 1e6));
        out.writeNumberField("cruiseSwayG", rounded(body.cruiseSwayG(), 1e6));
        out.writeNumberField("whiteNoiseG", rounded(truth.whiteNoiseG(), 1e7));
        out.writeNumberField("inBandNoiseG", rounded(truth.inBandNoiseG(), 1e7));
        number(out, "recoveryT80H", truth.t80H());
        Scenario.Recovery recovery = scenario.recovery();
        text(
                out,
                "recoveryShape",
                recovery == null ? null : recovery.shape().name().toLowerCase(java.util.Locale.ROOT));
        number(out, "recoveryRateRatio", recovery == null ? null : (Double) recovery.rateRatio());
        number(out, "recoverySwayRatio", recovery == null ? null : (Double) recovery.swayRatio());
        out.writeEndObject();
    }

    private static void mount(JsonGenerator out, Truth truth) throws IOException {
        out.writeObjectFieldStart("mount");
        matrix(out, "bodyFromSensor", truth.mountRotation());
        number(out, "shiftS", truth.mountShiftS());
        double[] shifted = truth.shiftedRotation();
        if (shifted == null) {
            out.writeNullField("bodyFromSensorAfterShift");
        } else {
            matrix(out, "bodyFromSensorAfterShift", shifted);
        }
        out.writeEndObject();
    }

    private static void matrix(JsonGenerator out, String name, double[] values) throws IOException {
        out.writeArrayFieldStart(name);
        for (double value : values) {
            out.writeNumber(rounded(value, 1e9));
        }
        out.writeEndArray();
    }

    private static void bouts(JsonGenerator out, Truth truth) throws IOException {
        out.writeArrayFieldStart("bouts");
        int seconds = truth.kindBySecond().length;
        int from = 0;
        while (from < seconds) {
            TrueKind kind = truth.kindAt(from);
            int to = from + 1;
            while (to < seconds && truth.kindAt(to) == kind) {
                to++;
            }
            out.writeStartObject();
            out.writeStringField("kind", kind.word());
            out.writeNumberField("startS", from);
            out.writeNumberField("endS", to);
            out.writeEndObject();
            from = to;
        }
        out.writeEndArray();
    }

    private static void beats(JsonGenerator out, Truth truth) throws IOException {
        out.writeArrayFieldStart("beats");
        for (int i = 0; i < truth.beatStartS().length; i++) {
            out.writeRaw(i == 0 ? "\n    " : ",\n    ");
            out.writeRaw("{\"startS\":" + rounded(truth.beatStartS()[i], 1e4)
                    + ",\"periodS\":" + rounded(truth.beatPeriodS()[i], 1e4)
                    + ",\"amplitudeG\":" + rounded(truth.beatAmplitudeG()[i], 1e5) + "}");
        }
        out.writeEndArray();
    }

    private static void number(JsonGenerator out, String name, @org.jspecify.annotations.Nullable Double value)
            throws IOException {
        if (value == null) {
            out.writeNullField(name);
        } else {
            out.writeNumberField(name, rounded(value, 1e6));
        }
    }

    private static void text(JsonGenerator out, String name, @org.jspecify.annotations.Nullable String value)
            throws IOException {
        if (value == null) {
            out.writeNullField(name);
        } else {
            out.writeStringField(name, value);
        }
    }

    private static double rounded(double value, double scale) {
        return Math.round(value * scale) / scale;
    }
}
