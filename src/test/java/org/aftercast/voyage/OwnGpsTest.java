package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import org.aftercast.geo.Position;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OwnGpsTest {

    private static final Instant T0 = Instant.parse("2026-08-01T10:00:00Z");

    @TempDir
    Path folder;

    @Test
    void aDayThatWasBegunIsGoneOnWithAndJumpsAreLeftOut() throws Exception {
        BoatTrack track = new BoatTrack(folder, FileStore.onDisk());
        track.add(T0, new Position(52, -5));
        track.add(T0.plusSeconds(1), new Position(52.00001, -5)); // 1 m: not kept
        track.add(T0.plusSeconds(10), new Position(52.0005, -5));
        track.add(T0.plusSeconds(20), new Position(53, -5)); // 111 km in ten seconds
        track.add(T0.plusSeconds(5), new Position(52.001, -5)); // back in time
        track.close();
        BoatTrack again = new BoatTrack(folder, FileStore.onDisk());
        again.add(T0.plusSeconds(60), new Position(52.002, -5));
        again.add(Instant.parse("2026-08-02T00:00:30Z"), new Position(52.1, -5));
        again.close();
        assertThat(Files.readAllLines(folder.resolve("tracks/2026-08-01.csv"))).hasSize(4);
        assertThat(Files.readAllLines(folder.resolve("tracks/2026-08-02.csv"))).hasSize(2);
        assertThat(BoatTrack.between(folder, T0.plusSeconds(5), T0.plusSeconds(86_400)))
                .hasSize(3);
    }

    @Test
    void soundThatIsNotThereIsTold() {
        assertThatThrownBy(() ->
                        HearPings.file(folder.resolve("none.wav"), org.aftercast.search.PingMeter.Settings.defaults()))
                .hasMessageContaining("no such file");
    }
}
