package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.aftercast.intake.DownloadLayout.ColumnForm;
import org.aftercast.intake.DownloadLayout.DecimalMark;
import org.aftercast.intake.DownloadLayout.Delimiter;
import org.aftercast.intake.DownloadLayout.TextForm;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Any table of channels, written in any dialect by a writer of its own, comes back within the dialect's rounding. The
 * values and dialects are drawn from a seed.
 */
class RoundTripTest {

    private static final int DIALECTS_PER_SEED = 12;

    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
    void comesBackWithinTheDialectsRounding(long seed) throws IOException {
        Random random = new Random(seed);
        for (int d = 0; d < DIALECTS_PER_SEED; d++) {
            Case drawn = new Case(random);
            Path file = folder.resolve("c" + d);
            Files.write(file, drawn.bytes());
            Recording back =
                    TextImport.read(file, drawn.layout(), ImportOptions.none()).recording();
            drawn.check(back);
            // The same through the spill file and Parquet.
            try (OpenImport open = TextImport.open(new ImportRequest(
                    List.of(file),
                    List.of(drawn.layout()),
                    ImportOptions.none(),
                    folder.resolve("rows" + d),
                    null,
                    ImportProgress.NONE))) {
                Path parquet = folder.resolve("p" + d + ".parquet");
                ColumnStore.parquet().write(open.recording(), parquet);
                Recording stored = ColumnStore.parquet().open(parquet);
                assertThat(stored.clock()).isEqualTo(back.clock());
                for (Channel channel : back.samples().channels()) {
                    assertThat(TextImportTest.samples(stored, channel))
                            .isEqualTo(TextImportTest.samples(back, channel));
                }
            }
        }
    }

    /** A table and a dialect. */
    private static final class Case {
        private final int rows;
        private final double rateHz;
        private final Map<Channel, double[]> values = new EnumMap<>(Channel.class);
        private final Map<Channel, Integer> decimals = new EnumMap<>(Channel.class);
        private final Map<Channel, ColumnForm> forms = new EnumMap<>(Channel.class);
        private final List<Channel> order = new ArrayList<>();
        private final boolean[] missingRow;
        private final Delimiter delimiter;
        private final DecimalMark mark;
        private final TimeKind kind;
        private final ZoneId zone;
        private final Instant start;
        private final int preamble;
        private final String eol;
        private final Charset charset;
        private final boolean quoted;
        private final boolean mayBlank;

        Case(Random random) {
            rows = 2 + random.nextInt(400);
            rateHz = new double[] {1, 5, 10, 25, 50, 100}[random.nextInt(6)];
            delimiter = Delimiter.values()[random.nextInt(Delimiter.values().length)];
            mark = delimiter != Delimiter.COMMA && random.nextBoolean() ? DecimalMark.COMMA : DecimalMark.POINT;
            kind = TimeKind.values()[random.nextInt(TimeKind.values().length)];
            zone = ZoneId.of(
                    new String[] {"UTC", "Europe/London", "America/Los_Angeles", "Asia/Kolkata"}[random.nextInt(4)]);
            start = Instant.parse("2026-05-03T10:00:00Z")
                    .plusSeconds(random.nextInt(20_000_000))
                    .plusMillis(10L * random.nextInt(100));
            preamble = random.nextInt(4);
            eol = new String[] {"\n", "\r\n", "\r"}[random.nextInt(3)];
            charset = new Charset[] {StandardCharsets.UTF_8, StandardCharsets.UTF_16LE, StandardCharsets.UTF_16BE}
                    [random.nextInt(3)];
            quoted = random.nextInt(4) == 0;
            // With runs of blanks as delimiter an empty field cannot be written.
            mayBlank = delimiter != Delimiter.SPACES || quoted;
            for (Channel channel : Channel.values()) {
                if (channel.isAcceleration() || random.nextBoolean()) {
                    order.add(channel);
                    draw(channel, random);
                }
            }
            Collections.shuffle(order, random);
            missingRow = new boolean[rows];
            // Breaks shorter than the head's median would hide; first and last row stay.
            for (int i = 3; i < rows - 3 && kind != TimeKind.NONE; i++) {
                missingRow[i] = random.nextInt(60) == 0;
            }
        }

        private void draw(Channel channel, Random random) {
            List<Unit> units = List.of(Unit.values()).stream()
                    .filter(unit -> unit.quantity() == Unit.Quantity.of(channel))
                    .toList();
            Unit unit = units.get(random.nextInt(units.size()));
            Double scale =
                    random.nextInt(3) == 0 ? (random.nextBoolean() ? -1 : 1) * (0.5 + random.nextDouble()) : null;
            Double offset = random.nextInt(3) == 0 ? random.nextGaussian() : null;
            forms.put(channel, new ColumnForm("c " + channel.columnName(), channel, unit, scale, offset));
            decimals.put(channel, 3 + random.nextInt(5));
            double[] column = new double[rows];
            int every = channel.isAcceleration() ? 1 : 1 + random.nextInt(5);
            for (int i = 0; i < rows; i++) {
                column[i] = switch (Unit.Quantity.of(channel)) {
                    case ACCELERATION -> random.nextGaussian();
                    case DEPTH, PRESSURE -> 20 + 5 * random.nextGaussian();
                    case TEMPERATURE -> 12 + random.nextGaussian();
                };
                if (i % every != 0 && mayBlank) {
                    column[i] = Double.NaN;
                }
            }
            values.put(channel, column);
        }

        DownloadLayout layout() {
            boolean numbered = kind == TimeKind.SAMPLE_NUMBER || kind == TimeKind.NONE;
            boolean absolute = kind.isAbsolute();
            TimeForm time = new TimeForm(
                    kind,
                    kind == TimeKind.NONE ? List.of() : List.of("when"),
                    zone.getId(),
                    absolute ? null : start,
                    numbered ? Double.valueOf(rateHz) : null);
            return DownloadLayout.of(
                    new TextForm(delimiter, mark, preamble + 1, 0),
                    time,
                    order.stream().map(forms::get).toList());
        }

        byte[] bytes() {
            StringBuilder text = new StringBuilder(charset == StandardCharsets.UTF_8 ? "" : "\uFEFF");
            for (int p = 0; p < preamble; p++) {
                text.append("written by a test, line ").append(p).append(eol);
            }
            List<String> head = new ArrayList<>();
            if (kind != TimeKind.NONE) {
                head.add("when");
            }
            order.forEach(channel -> head.add(forms.get(channel).column()));
            // A name with a blank needs quotes where blanks delimit.
            line(text, head, quoted || delimiter == Delimiter.SPACES);
            for (int i = 0; i < rows; i++) {
                if (missingRow[i]) {
                    continue;
                }
                List<String> fields = new ArrayList<>();
                if (kind != TimeKind.NONE) {
                    fields.add(stamp(i));
                }
                for (Channel channel : order) {
                    double v = values.get(channel)[i];
                    ColumnForm form = forms.get(channel);
                    double ours = v;
                    double inUnit = switch (form.unit()) {
                        case FAHRENHEIT -> ours * 1.8 + 32;
                        case KELVIN -> ours + 273.15;
                        default -> ours / form.unit().factor();
                    };
                    double written = (inUnit - form.offset()) / form.scale();
                    fields.add(Double.isNaN(v) ? "" : number(written, decimals.get(channel)));
                }
                line(text, fields, quoted || (delimiter == Delimiter.SPACES && kind.isCalendar()));
            }
            return text.toString().getBytes(charset);
        }

        private void line(StringBuilder text, List<String> fields, boolean quote) {
            String q = quote ? "\"" : "";
            text.append(q)
                    .append(String.join(q + delimiter.sign() + q, fields))
                    .append(q)
                    .append(eol);
        }

        private String number(double value, int places) {
            return String.format(Locale.ROOT, "%." + places + "f", value).replace('.', mark.sign());
        }

        private String stamp(int row) {
            long ms = Math.round(row * 1000 / rateHz);
            Instant at = start.plusMillis(ms);
            ZonedDateTime local = at.atZone(zone);
            return switch (kind) {
                case YEAR_FIRST ->
                    DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss.SSS", Locale.ROOT)
                            .format(local);
                case DAY_FIRST ->
                    DateTimeFormatter.ofPattern("d.M.yyyy H:mm:ss.SSS", Locale.ROOT)
                            .format(local);
                case MONTH_FIRST ->
                    DateTimeFormatter.ofPattern("M/d/yyyy h:mm:ss.SSS a", Locale.ENGLISH)
                            .format(local);
                case EPOCH_SECONDS -> number(at.toEpochMilli() / 1e3, 3);
                case EPOCH_MILLISECONDS -> Long.toString(at.toEpochMilli());
                case SERIAL_DAYS ->
                    number(25_569 + (at.toEpochMilli() / 1e3 + local.getOffset().getTotalSeconds()) / 86_400, 11);
                case ELAPSED_SECONDS -> number(ms / 1e3, 3);
                case ELAPSED_MILLISECONDS -> Long.toString(ms);
                case SAMPLE_NUMBER -> Integer.toString(row + 17);
                case NONE -> throw new IllegalStateException();
            };
        }

        void check(Recording back) {
            assertThat(back.clock().sampleRateHz()).as(toString()).isCloseTo(rateHz, within(1e-9 * rateHz));
            // spreadsheet days with 11 decimals: 0.4 microseconds
            assertThat(java.time.Duration.between(start, back.clock().startUtc())
                            .abs()
                            .toNanos())
                    .as(toString())
                    .isLessThan(2_000);
            assertThat(back.samples().sampleCount()).as(toString()).isEqualTo(rows);
            for (Channel channel : order) {
                float[] samples = TextImportTest.samples(back, channel);
                ColumnForm form = forms.get(channel);
                // half a unit in the last place of the file, in our unit, and the rounding of a float
                double file = 0.51
                        * Math.pow(10, -decimals.get(channel))
                        * Math.abs(form.scale())
                        * form.unit().factor();
                for (int i = 0; i < rows; i++) {
                    double v = missingRow[i] ? Double.NaN : values.get(channel)[i];
                    if (Double.isNaN(v)) {
                        assertThat(samples[i])
                                .as("%s %s row %d", this, channel, i)
                                .isNaN();
                    } else {
                        assertThat((double) samples[i])
                                .as("%s %s row %d", this, channel, i)
                                .isCloseTo(v, within(file + 1e-6 * Math.max(1, Math.abs(v))));
                    }
                }
            }
        }

        @Override
        public String toString() {
            return kind + " " + zone + " " + start + " " + rateHz + " Hz, " + delimiter + " " + mark + " " + charset
                    + " " + rows + " rows" + (quoted ? " quoted" : "");
        }
    }
}
