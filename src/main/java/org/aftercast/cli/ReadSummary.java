package org.aftercast.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.voyage.ReadingDocument;
import org.jspecify.annotations.Nullable;

/** A reading in a screenful. */
final class ReadSummary {

    private ReadSummary() {}

    static void print(ReadingDocument d, PrintWriter out) {
        ReadingDocument.RecordingPart r = d.recording();
        out.printf(
                Locale.ROOT,
                "%s: %s at %s samples per second%s%n",
                r.source(),
                span(r.durationS()),
                number(r.sampleRateHz()),
                r.startUtc() == null ? ", no time of day" : ", from " + r.startUtc());
        out.println("  channels    " + String.join(", ", r.channels()));
        for (String line : r.guess()) {
            out.println("  read as     " + line);
        }
        if (!r.gaps().isEmpty()) {
            double gone =
                    r.gaps().stream().mapToDouble(g -> g.endS() - g.startS()).sum();
            out.printf(Locale.ROOT, "  gaps        %d, together %s%n", r.gaps().size(), span(gone));
        }
        for (ReadingDocument.FlagPart flag : r.flags()) {
            out.println("  flag        " + flag.note());
        }
        Double hz = d.beats().medianHz();
        Double amplitude = d.beats().medianAmplitudeG();
        out.printf(
                Locale.ROOT,
                "  tailbeats   %,d%s (band %s-%s Hz, %s)%n",
                d.beats().count(),
                hz == null || amplitude == null
                        ? ""
                        : String.format(Locale.ROOT, ", median %.3f Hz, %.3f g", hz, amplitude),
                number(d.motion().bandLowHz()),
                number(d.motion().bandHighHz()),
                d.motion().bandSource());
        if (d.motion().methodAgreement() != null) {
            out.printf(
                    Locale.ROOT,
                    "              two methods agree at %.0f %% of the beats%n",
                    100 * d.motion().methodAgreement());
        }
        means(d, out);
        out.println("  release     " + d.times().release().note());
        out.println("  detachment  " + d.times().detachment().note());
        out.println("  bouts       " + shares(d.bouts()));
        long bursts = d.events().stream().filter(e -> e.kind().equals("burst")).count();
        Double wrong = d.falseBurstsPerDay();
        out.println("  bursts      "
                + (wrong == null
                        ? "not judged: too little swimming"
                        : String.format(
                                Locale.ROOT, "%d; at most %.1f a day are expected to be false", bursts, wrong)));
        out.println("  recovery    " + d.recovery().sentence());
        out.printf(
                Locale.ROOT, "  fate        %s: %s%n", d.fate().call(), d.fate().summary());
        ReadingDocument.ProbabilitiesPart p = d.fate().probabilities();
        out.printf(
                Locale.ROOT,
                "              survived %.2f, died %.2f, eaten %.2f, shed %.2f; record's end: %s%n",
                p.survived(),
                p.died(),
                p.eaten(),
                p.shed(),
                d.fate().recordEnd());
        for (ReadingDocument.EndingPart e : d.fate().endings()) {
            if (e.probability() >= 0.05) {
                out.printf(Locale.ROOT, "              %.2f  %s%n", e.probability(), e.sentence());
            }
        }
        List<ReadingDocument.EvidencePart> evidence = d.fate().evidence();
        for (ReadingDocument.EvidencePart e : evidence.subList(0, Math.min(3, evidence.size()))) {
            out.println("              - " + e.sentence());
        }
        for (String note : d.notes()) {
            out.println("  note        " + note);
        }
    }

    private static final Map<String, String> SHOWN = Map.of(
            "beatHz", "beat frequency, Hz",
            "beatAmplitudeG", "beat amplitude, g",
            "dynamicL2G", "dynamic acceleration, g",
            "pitchDeg", "pitch, degrees");

    /** Means from release to detachment with their 95 % intervals. */
    private static void means(ReadingDocument d, PrintWriter out) {
        for (ReadingDocument.MeanPart m : d.summary().means()) {
            String name = SHOWN.get(m.measure());
            if (name != null) {
                out.printf(
                        Locale.ROOT,
                        "  mean        %s: %.4g%s%n",
                        name,
                        m.mean(),
                        m.low() == null
                                ? " (too few independent minutes for an interval)"
                                : String.format(Locale.ROOT, " (95 %% interval %.4g to %.4g)", m.low(), m.high()));
            }
        }
        if (d.summary().rolledOverS() + d.summary().upsideDownS() > 0) {
            out.printf(
                    Locale.ROOT,
                    "  posture     on its side for %s, upside down for %s%n",
                    span(d.summary().rolledOverS()),
                    span(d.summary().upsideDownS()));
        }
    }

    private static String shares(List<ReadingDocument.BoutPart> bouts) {
        Map<String, Double> seconds = new java.util.TreeMap<>();
        double total = 0;
        for (ReadingDocument.BoutPart b : bouts) {
            seconds.merge(b.kind(), b.endS() - b.startS(), Double::sum);
            total += b.endS() - b.startS();
        }
        if (total == 0) {
            return "none";
        }
        StringBuilder text = new StringBuilder();
        double all = total;
        seconds.entrySet().stream()
                .sorted(Map.Entry.<String, Double>comparingByValue().reversed())
                .forEach(e -> text.append(text.length() == 0 ? "" : ", ")
                        .append(String.format(Locale.ROOT, "%s %.1f %%", e.getKey(), 100 * e.getValue() / all)));
        return bouts.size() + ": " + text;
    }

    private static String span(double seconds) {
        if (seconds < 120) {
            return String.format(Locale.ROOT, "%.1f s", seconds);
        }
        return seconds < 7200
                ? String.format(Locale.ROOT, "%.1f min", seconds / 60)
                : String.format(Locale.ROOT, "%.1f h", seconds / 3600);
    }

    private static String number(@Nullable Double value) {
        return value == null ? "-" : String.format(Locale.ROOT, "%.4g", value).replaceAll("\\.?0+$", "");
    }
}
