package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import org.aftercast.study.CaptureSheet;
import org.aftercast.study.RuleException;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Tables damaged at random are read or refused with a reason; nothing else comes out. */
class CaptureTableMutationTest {

    private static final String TABLE = "animal,hookedUtc,fightMin,hookLocation,lengthM,reflexesTested,packageSerial,"
            + "frequencyMHz,releasedUtc,detachedUtc,notes\n"
            + "A1,2026-06-01T08:00:00Z,12.5,jaw,0.93,5,P1,151.1,2026-06-01 08:20,2026-06-02T09:00Z,\"two\nlines\"\n"
            + "A2,2026-06-01T09:00:00+01:00,1e1,gut,.5,,,,,,'=x\n";

    @ParameterizedTest
    @ValueSource(longs = {1, 2})
    void readOrRefusedWithAReason(long seed) {
        Random random = new Random(seed);
        int read = 0;
        int refused = 0;
        for (int n = 0; n < 2000; n++) {
            byte[] bytes = TABLE.getBytes(StandardCharsets.UTF_8);
            for (int edits = 1 + random.nextInt(4); edits > 0; edits--) {
                bytes = edit(bytes, random);
            }
            TableProblems problems = new TableProblems("c.csv");
            try {
                List<CaptureTable.Row> rows = CaptureTable.read("c.csv", bytes, problems, CaptureTable.Kind.CAPTURES);
                for (CaptureTable.Row row : rows) {
                    try {
                        CaptureSheet.Entry entry = CaptureSheet.parse(row.cells());
                        assertThat(CaptureSheet.parse(CaptureSheet.format(entry)))
                                .isEqualTo(entry);
                        read++;
                    } catch (RuleException broken) {
                        assertThat(broken.lines()).isNotEmpty();
                        refused++;
                    }
                }
            } catch (BadInputException bad) {
                assertThat(bad.problems())
                        .isNotEmpty()
                        .allSatisfy(p -> assertThat(p).startsWith("c.csv"));
                refused++;
            }
        }
        assertThat(read).isPositive();
        assertThat(refused).isPositive();
    }

    private static byte[] edit(byte[] bytes, Random random) {
        int at = random.nextInt(bytes.length);
        switch (random.nextInt(4)) {
            case 0 -> bytes[at] = (byte) random.nextInt(256);
            case 1 -> bytes[at] = (byte) ",;\t\"\n\r'=-+.:0eEN\0".charAt(random.nextInt(17));
            case 2 -> bytes = java.util.Arrays.copyOf(bytes, Math.max(1, at));
            default -> {
                int length = Math.min(random.nextInt(20), bytes.length - at);
                byte[] longer = new byte[bytes.length + length];
                System.arraycopy(bytes, 0, longer, 0, at + length);
                System.arraycopy(bytes, at, longer, at + length, bytes.length - at);
                bytes = longer;
            }
        }
        return bytes;
    }
}
