package org.aftercast.instruments;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.BufferedReader;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import org.aftercast.geo.NmeaReader;
import org.aftercast.geo.OwnShip;
import org.jspecify.annotations.Nullable;

/**
 * The boat's GPS and compass as lines of NMEA 0183, over TCP, UDP or a serial port, or from a log file.
 *
 * <p>One thread of its own (a daemon) reads; {@link #state()} is what was last heard. A lost TCP or serial link is tried
 * again every two seconds until {@link #close()}. Stale positions are told by {@link OwnShip#isStale}.
 */
public final class GpsFeed implements Closeable {

    private static final int CONNECT_MS = 3000;
    private static final int SILENCE_MS = 30_000;
    private static final long RETRY_MS = 2000;

    private final NmeaReader reader = new NmeaReader();
    private final Clock clock;
    private final Consumer<OwnShip> onPosition;
    private volatile OwnShip state = OwnShip.NOTHING;
    private volatile String link;
    private volatile boolean closed;
    private volatile @Nullable Closeable open;
    private @Nullable Thread thread;

    private GpsFeed(String link, Clock clock, Consumer<OwnShip> onPosition) {
        this.link = link;
        this.clock = clock;
        this.onPosition = onPosition;
    }

    /** Something that reads lines until its link ends. */
    @FunctionalInterface
    private interface Source {
        void read() throws IOException, InterruptedException;
    }

    /**
     * Lines from a TCP server, for example a multiplexer on the boat's network.
     *
     * @param onPosition called for every new position, on the feed's thread
     */
    public static GpsFeed tcp(String host, int port, Clock clock, Consumer<OwnShip> onPosition) {
        GpsFeed feed = new GpsFeed("connecting", clock, onPosition);
        feed.start("gps tcp " + port, true, () -> {
            try (Socket socket = new Socket()) {
                feed.open = socket;
                socket.connect(new InetSocketAddress(host, port), CONNECT_MS);
                socket.setSoTimeout(SILENCE_MS);
                feed.link = "connected";
                feed.lines(new BufferedReader(
                        new InputStreamReader(socket.getInputStream(), StandardCharsets.ISO_8859_1)));
            }
        });
        return feed;
    }

    /**
     * Lines that arrive by UDP on a port of this machine.
     *
     * @throws IOException if the port cannot be taken
     */
    public static GpsFeed udp(int port, Clock clock, Consumer<OwnShip> onPosition) throws IOException {
        GpsFeed feed = new GpsFeed("listening", clock, onPosition);
        DatagramSocket socket = new DatagramSocket(port);
        feed.open = socket;
        feed.start("gps udp " + port, false, () -> {
            byte[] buffer = new byte[65_507];
            while (!feed.closed) {
                DatagramPacket packet = new DatagramPacket(buffer, buffer.length);
                socket.receive(packet);
                feed.link = "receiving";
                String text = new String(packet.getData(), 0, packet.getLength(), StandardCharsets.ISO_8859_1);
                text.lines().forEach(feed::line);
            }
        });
        return feed;
    }

    /** Lines from a serial port, for example {@code /dev/ttyUSB0} or {@code COM3}; usual rates 4800 and 38400. */
    public static GpsFeed serial(String port, int baud, Clock clock, Consumer<OwnShip> onPosition) {
        GpsFeed feed = new GpsFeed("opening " + port, clock, onPosition);
        feed.start("gps serial", true, () -> {
            SerialPort serial = port(port);
            serial.setBaudRate(baud);
            serial.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, SILENCE_MS, 0);
            if (!serial.openPort()) {
                throw new IOException(port + " cannot be opened");
            }
            feed.open = serial::closePort;
            feed.link = "open";
            try {
                feed.lines(new BufferedReader(
                        new InputStreamReader(serial.getInputStream(), StandardCharsets.ISO_8859_1)));
            } finally {
                serial.closePort();
            }
        });
        return feed;
    }

    private static SerialPort port(String name) throws IOException {
        try {
            return SerialPort.getCommPort(name);
        } catch (SerialPortInvalidPortException none) {
            throw new IOException("there is no serial port " + name, none);
        }
    }

    /** Names of the serial ports of this machine. */
    public static List<String> serialPorts() {
        return Arrays.stream(SerialPort.getCommPorts())
                .map(SerialPort::getSystemPortName)
                .toList();
    }

    /**
     * Replays a log file of such lines at the pace of its own times.
     *
     * @param times how many times as fast; very large for at once
     * @throws IOException if the file cannot be read
     */
    public static GpsFeed replay(Path log, double times, Clock clock, Consumer<OwnShip> onPosition) throws IOException {
        if (!(times > 0)) {
            throw new IllegalArgumentException("times: " + times + " must be above 0");
        }
        List<String> lines = Files.readAllLines(log, StandardCharsets.ISO_8859_1);
        GpsFeed feed = new GpsFeed("replaying", clock, onPosition);
        feed.start("gps replay", false, () -> {
            Instant before = null;
            for (String line : lines) {
                if (feed.closed) {
                    return;
                }
                Instant at = feed.peekTime(line);
                if (before != null && at != null && at.isAfter(before)) {
                    long ms = Math.round(Duration.between(before, at).toMillis() / times);
                    if (ms > 0) {
                        Thread.sleep(Math.min(ms, 60_000));
                    }
                }
                before = at == null ? before : at;
                feed.line(line);
            }
            feed.link = "replay ended";
        });
        return feed;
    }

    private @Nullable Instant peekTime(String line) {
        NmeaReader ahead = new NmeaReader();
        ahead.accept(line, Instant.EPOCH);
        return ahead.state().gpsTime();
    }

    /** What was last heard. */
    public OwnShip state() {
        return state;
    }

    /** State of the link in words, for the page. */
    public String link() {
        return link;
    }

    /** Lines heard, refused, and without checksum. */
    public NmeaReader.Counts counts() {
        synchronized (reader) {
            return reader.counts();
        }
    }

    /** The last refusals. */
    public List<String> problems() {
        synchronized (reader) {
            return reader.problems();
        }
    }

    private void start(String name, boolean again, Source source) {
        Thread t = new Thread(
                () -> {
                    while (!closed) {
                        try {
                            source.read();
                            if (!again) {
                                return;
                            }
                            link = "link ended, trying again";
                        } catch (IOException failure) {
                            link = closed ? "closed" : "no link: " + failure.getMessage();
                            if (!again && failure instanceof SocketException) {
                                return;
                            }
                        } catch (InterruptedException stop) {
                            return;
                        }
                        try {
                            Thread.sleep(RETRY_MS);
                        } catch (InterruptedException stop) {
                            return;
                        }
                    }
                },
                name);
        t.setDaemon(true);
        thread = t;
        t.start();
    }

    private void lines(BufferedReader in) throws IOException {
        for (String line = in.readLine(); line != null && !closed; line = in.readLine()) {
            line(line);
        }
    }

    private void line(String line) {
        boolean position;
        OwnShip now;
        synchronized (reader) {
            position = reader.accept(line, clock.instant());
            now = reader.state();
        }
        state = now;
        if (position) {
            onPosition.accept(now);
        }
    }

    @Override
    public void close() throws IOException {
        closed = true;
        link = "closed";
        Closeable inUse = open;
        if (inUse != null) {
            inUse.close();
        }
        Thread t = thread;
        if (t != null) {
            t.interrupt();
        }
    }
}
