package org.aftercast.intake;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.aftercast.intake.DownloadLayout.ColumnForm;
import org.aftercast.intake.DownloadLayout.DecimalMark;
import org.aftercast.intake.DownloadLayout.Delimiter;
import org.aftercast.intake.DownloadLayout.TextForm;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.intake.DownloadLayout.TimeKind;
import org.aftercast.recording.Channel;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The parser of the hot path against FastCSV with the JDK's own number parser: the same bits. */
class ParserTwinTest {

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14, 15, 16})
    void givesTheSameBitsAsFastCsvAndTheJdk(long seed) throws Exception {
        Random random = new Random(seed);
        char sign = new char[] {',', ';', '\t', '|'}[random.nextInt(4)];
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 3000; i++) {
            text.append(i / 100.0);
            for (int f = 0; f < 4; f++) {
                String number = number(random);
                text.append(sign).append(random.nextInt(8) == 0 ? "\"" + number + "\"" : number);
            }
            text.append(random.nextInt(5) == 0 ? "\r\n" : "\n");
        }
        Delimiter delimiter = switch (sign) {
            case ',' -> Delimiter.COMMA;
            case ';' -> Delimiter.SEMICOLON;
            case '|' -> Delimiter.PIPE;
            default -> Delimiter.TAB;
        };
        DownloadLayout layout = DownloadLayout.of(
                new TextForm(delimiter, DecimalMark.POINT, 0, 1),
                new TimeForm(TimeKind.ELAPSED_SECONDS, List.of("#1"), null, null, null),
                List.of(
                        ColumnForm.of("#2", Channel.ACCELERATION_X, Unit.G),
                                ColumnForm.of("#3", Channel.ACCELERATION_Y, Unit.G),
                        ColumnForm.of("#4", Channel.ACCELERATION_Z, Unit.G),
                                ColumnForm.of("#5", Channel.DEPTH, Unit.METRE)));
        RowBlock block = new RowBlock(4, 16);
        byte[] bytes = text.toString().getBytes(StandardCharsets.UTF_8);
        new RowParser(ColumnPlan.of("t", layout, List.of())).parse(bytes, 0, bytes.length, RowBlock.Tail.WHOLE, block);

        List<CsvRecord> twin = new ArrayList<>();
        try (CsvReader<CsvRecord> reader =
                CsvReader.builder().fieldSeparator(sign).ofCsvRecord(text.toString())) {
            reader.forEach(twin::add);
        }
        assertThat(block.rows).isEqualTo(twin.size());
        for (int i = 0; i < block.rows; i++) {
            CsvRecord record = twin.get(i);
            assertThat(block.stamps[i])
                    .isEqualTo(new java.math.BigDecimal(record.getField(0))
                            .movePointRight(9)
                            .longValueExact());
            for (int f = 0; f < 4; f++) {
                String field = record.getField(f + 1);
                // adding the offset of the unit turns -0 into 0
                float expected = field.isEmpty() ? Float.NaN : (float) Double.parseDouble(field) + 0f;
                assertThat(Float.floatToRawIntBits(block.values[f][i]))
                        .as("%s", field)
                        .isEqualTo(Float.floatToRawIntBits(expected));
            }
        }
    }

    @Test
    void readsEveryNumberAsTheJdkDoes() throws Exception {
        Random random = new Random(4711);
        for (int i = 0; i < 200_000; i++) {
            String number = number(random);
            byte[] b = number.getBytes(StandardCharsets.UTF_8);
            double expected = number.isEmpty() ? Double.NaN : Double.parseDouble(number);
            assertThat(Double.doubleToRawLongBits(NumberText.read(b, 0, b.length, '.')))
                    .as(number)
                    .isEqualTo(Double.doubleToRawLongBits(expected));
        }
    }

    private static String number(Random random) {
        return switch (random.nextInt(8)) {
            case 0 -> Integer.toString(random.nextInt(2000) - 1000);
            case 1 -> String.format(Locale.ROOT, "%.3f", random.nextGaussian());
            case 2 -> String.format(Locale.ROOT, "%.8f", random.nextGaussian() * 1000);
            case 3 -> Double.toString(random.nextGaussian() * Math.pow(10, random.nextInt(30) - 15));
            case 4 -> String.format(Locale.ROOT, "%+.2e", random.nextGaussian());
            case 5 -> random.nextLong() + "." + Math.abs(random.nextInt());
            case 6 -> "";
            default -> String.format(Locale.ROOT, "%.17g", random.nextDouble());
        };
    }
}
