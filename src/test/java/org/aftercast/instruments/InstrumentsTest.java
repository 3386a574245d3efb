package org.aftercast.instruments;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import javax.sound.sampled.AudioFileFormat;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import org.aftercast.geo.NmeaSentence;
import org.aftercast.geo.OwnShip;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Real sockets on loopback and free ports. */
class InstrumentsTest {

    private static final Clock CLOCK = Clock.fixed(Instant.parse("2026-08-01T10:00:05Z"), ZoneOffset.UTC);

    @TempDir
    Path folder;

    private final BlockingQueue<OwnShip> heard = new LinkedBlockingQueue<>();

    private static String rmc(String time, String lat) {
        String body = "GPRMC," + time + ",A," + lat + ",N,00436.000,W,5.0,211.0,010826,,";
        return "$" + body + "*" + NmeaSentence.checksum(body) + "\r\n";
    }

    private OwnShip next() throws InterruptedException {
        OwnShip ship = heard.poll(20, TimeUnit.SECONDS);
        assertThat(ship).isNotNull();
        return ship;
    }

    @Test
    void tcpIsTriedAgainAfterALostLink() throws Exception {
        try (ServerSocket server = new ServerSocket(0, 2, InetAddress.getLoopbackAddress());
                GpsFeed feed = GpsFeed.tcp("127.0.0.1", server.getLocalPort(), CLOCK, heard::add)) {
            try (Socket first = server.accept()) {
                first.getOutputStream().write(rmc("100000", "5218.000").getBytes(StandardCharsets.US_ASCII));
                assertThat(next().position().latDeg()).isCloseTo(52.3, within(1e-9));
            }
            try (Socket second = server.accept()) {
                second.getOutputStream().write(rmc("100001", "5219.200").getBytes(StandardCharsets.US_ASCII));
                assertThat(next().position().latDeg()).isCloseTo(52.32, within(1e-9));
                assertThat(feed.link()).isEqualTo("connected");
                assertThat(feed.state().receivedAt()).isEqualTo(CLOCK.instant());
            }
        }
    }

    @Test
    void udpTakesSeveralLinesOfOneDatagram() throws Exception {
        int port;
        try (DatagramSocket free = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
        try (GpsFeed feed = GpsFeed.udp(port, CLOCK, heard::add);
                DatagramSocket sender = new DatagramSocket()) {
            byte[] bytes = (rmc("100000", "5218.000") + "$GPRMC,broken*00\r\n" + rmc("100001", "5218.600"))
                    .getBytes(StandardCharsets.US_ASCII);
            sender.send(new DatagramPacket(bytes, bytes.length, InetAddress.getLoopbackAddress(), port));
            next();
            assertThat(next().position().latDeg()).isCloseTo(52.31, within(1e-9));
            assertThat(feed.counts().refused()).isEqualTo(1);
            assertThat(feed.problems()).hasSize(1);
        }
    }

    @Test
    void replaysALogAtItsOwnPace() throws Exception {
        Path log = folder.resolve("boat.log");
        Files.writeString(log, rmc("100000", "5218.000") + rmc("100010", "5218.600") + rmc("100020", "5219.200"));
        try (GpsFeed feed = GpsFeed.replay(log, 1000, CLOCK, heard::add)) {
            List<OwnShip> all = Collections.synchronizedList(new ArrayList<>());
            for (int i = 0; i < 3; i++) {
                all.add(next());
            }
            assertThat(all.get(2).gpsTime()).isEqualTo(Instant.parse("2026-08-01T10:00:20Z"));
            assertThat(feed.counts().lines()).isEqualTo(3);
        }
        assertThatThrownBy(() -> GpsFeed.replay(log, 0, CLOCK, heard::add)).hasMessageContaining("times");
    }

    @Test
    void aSerialPortThatIsNotThereIsTold() throws Exception {
        assertThat(GpsFeed.serialPorts()).isNotNull();
        try (GpsFeed feed = GpsFeed.serial("/dev/none-such", 4800, CLOCK, heard::add)) {
            for (int i = 0; i < 100 && !feed.link().startsWith("no link"); i++) {
                Thread.sleep(50);
            }
            assertThat(feed.link()).contains("no serial port");
            assertThat(feed.state()).isEqualTo(OwnShip.NOTHING);
        }
    }

    @Test
    void readsAWaveFile() throws Exception {
        int n = 8000;
        byte[] pcm = new byte[4 * n];
        for (int i = 0; i < n; i++) {
            short v = (short) Math.round(16384 * Math.sin(2 * Math.PI * 440 * i / 8000.0));
            for (int c = 0; c < 2; c++) {
                pcm[4 * i + 2 * c] = (byte) v;
                pcm[4 * i + 2 * c + 1] = (byte) (v >> 8);
            }
        }
        AudioFormat format = new AudioFormat(8000, 16, 2, true, false);
        Path wav = folder.resolve("tone.wav");
        AudioSystem.write(
                new AudioInputStream(new ByteArrayInputStream(pcm), format, n),
                AudioFileFormat.Type.WAVE,
                wav.toFile());
        Sound sound = Sound.file(wav);
        assertThat(sound.sampleRateHz()).isEqualTo(8000);
        assertThat(sound.samples()).hasSize(n);
        double peak = 0;
        for (float v : sound.samples()) {
            peak = Math.max(peak, v);
        }
        assertThat(peak).isCloseTo(0.5, within(0.001));
        Path text = folder.resolve("no.wav");
        Files.writeString(text, "hello");
        assertThatThrownBy(() -> Sound.file(text)).hasMessageContaining("accepted: uncompressed WAV");
        assertThatThrownBy(() -> Sound.lineInput(0)).hasMessageContaining("seconds");
    }
}
