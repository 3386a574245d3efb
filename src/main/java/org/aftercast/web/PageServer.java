package org.aftercast.web;

import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.Handler;
import io.javalin.http.HttpResponseException;
import java.io.IOException;
import java.net.Inet4Address;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.jspecify.annotations.Nullable;

/** Serves the pages of one study. */
public final class PageServer implements AutoCloseable {

    /** Who can reach the pages. */
    public enum Reach {
        /** Programs on this machine only. */
        THIS_MACHINE,
        /** Devices on the same network that type a pairing code. */
        PAIRED_DEVICES
    }

    /** Largest body of a request other than a download being loaded. */
    static final long LARGEST_BODY_BYTES = 25_000_000;

    private final Javalin app;
    private final Gate gate;
    private final LoadApi loads;
    private final BoatApi boat;
    private final List<String> notices;

    private PageServer(Javalin app, Gate gate, LoadApi loads, BoatApi boat, List<String> notices) {
        this.app = app;
        this.loads = loads;
        this.boat = boat;
        this.gate = gate;
        this.notices = List.copyOf(notices);
    }

    /**
     * Starts serving; returns when the first page can be asked for.
     *
     * @param folder the study
     * @param port 1–65535, or 0 for any free one
     * @param reach who can reach it
     * @throws IOException if there is no study, or it cannot be opened
     */
    public static PageServer start(Path folder, int port, Reach reach, InstantSource clock) throws IOException {
        Desk desk = new Desk(folder, clock);
        List<String> notices = desk.open();
        Pairing pairing = reach == Reach.THIS_MACHINE ? null : new Pairing(ownAddresses(), clock);
        Gate gate = new Gate(pairing);
        LoadApi loads = new LoadApi(desk, gate);
        BoatApi boat = new BoatApi(desk);
        List<Route> routes = routes(desk, gate, loads, boat);
        quieten();
        Javalin app = Javalin.create(config -> configure(config, gate, routes));
        app.start(reach == Reach.THIS_MACHINE ? "127.0.0.1" : "0.0.0.0", port);
        return new PageServer(app, gate, loads, boat, notices);
    }

    /** Every route of the JSON interface. */
    static List<Route> routes(Desk desk, Gate gate, LoadApi loads, BoatApi boat) {
        List<Route> routes = new ArrayList<>();
        routes.addAll(new DeviceApi(gate).routes());
        routes.addAll(new StudyApi(desk, gate).routes());
        routes.addAll(new HistoryApi(desk, gate).routes());
        routes.addAll(new DeckApi(desk, gate).routes());
        RecordingShelf shelf = new RecordingShelf(desk);
        routes.addAll(new RecordingApi(desk, gate, shelf).routes());
        routes.addAll(new JudgeApi(desk, gate, shelf).routes());
        routes.addAll(new FindingsApi(desk, gate).routes());
        routes.addAll(new KeepApi(desk, gate).routes());
        routes.addAll(new SearchApi(desk, gate).routes());
        routes.addAll(boat.routes());
        routes.addAll(loads.routes());
        return routes;
    }

    private static void configure(JavalinConfig config, Gate gate, List<Route> routes) {
        config.startup.showJavalinBanner = false;
        // Few threads: each that reads samples keeps a database connection of its own.
        config.jetty.threadPool = new QueuedThreadPool(16, 4);
        config.jetty.modifyHttpConfiguration(http -> http.setSendServerVersion(false));
        config.http.maxRequestSize = LARGEST_BODY_BYTES;
        config.routes.before(gate::check);
        for (Route route : routes) {
            Handler handler = ctx -> {
                allow(gate, ctx, route);
                route.work().answer(ctx);
            };
            switch (route.method()) {
                case "GET" -> config.routes.get(route.path(), handler);
                case "PUT" -> config.routes.put(route.path(), handler);
                case "POST" -> config.routes.post(route.path(), handler);
                default -> throw new IllegalArgumentException("method: " + route.method());
            }
        }
        Assets assets = new Assets();
        config.routes.get("/api/*", ctx -> {
            throw ApiException.notFound("there is no route GET " + ctx.path());
        });
        config.routes.get("/*", assets::serve);
        config.routes.exception(HttpResponseException.class, (failure, ctx) -> Errors.answer(ctx, failure));
        config.routes.exception(Exception.class, (failure, ctx) -> Errors.answer(ctx, failure));
    }

    private static void allow(Gate gate, Context ctx, Route route) throws ApiException {
        Role role = gate.roleOf(ctx);
        if (role.includes(route.needs())) {
            return;
        }
        if (role == Role.NOBODY) {
            throw new ApiException(ApiException.Kind.NOT_PAIRED, "this device is not paired yet; type a pairing code");
        }
        throw new ApiException(
                ApiException.Kind.NOT_ALLOWED,
                "this device may " + role.name().toLowerCase(java.util.Locale.ROOT)
                        + " only; pair it again with the code for \""
                        + route.needs().name().toLowerCase(java.util.Locale.ROOT) + "\"");
    }

    /** The server's own chatter at start is of no use to whoever runs it. */
    private static void quieten() {
        for (String name : new String[] {"io.javalin", "org.eclipse.jetty"}) {
            if (System.getProperty("org.slf4j.simpleLogger.log." + name) == null) {
                System.setProperty("org.slf4j.simpleLogger.log." + name, "warn");
            }
        }
    }

    private static Set<String> ownAddresses() throws IOException {
        Set<String> addresses = new TreeSet<>();
        try {
            NetworkInterface.networkInterfaces()
                    .flatMap(NetworkInterface::inetAddresses)
                    .filter(a -> a instanceof Inet4Address && !a.isLoopbackAddress())
                    .forEach(a -> addresses.add(a.getHostAddress()));
        } catch (SocketException failure) {
            throw new IOException("the machine's network addresses cannot be listed", failure);
        }
        return addresses;
    }

    /**
     * Listens to the boat's GPS (docs/search.md); null: to nothing.
     *
     * @throws org.aftercast.voyage.BadInputException if it is no source of positions
     */
    public void listenToGps(@Nullable String source) throws Exception {
        boat.listenTo(source);
    }

    /** The port that is served. */
    public int port() {
        return app.port();
    }

    /** Where to point a browser on this machine. */
    public String address() {
        return "http://127.0.0.1:" + port() + "/";
    }

    /** Where to point a browser on another device, empty unless shared. */
    public List<String> networkAddresses() {
        Pairing pairing = gate.pairing();
        return pairing == null
                ? List.of()
                : pairing.addresses().stream()
                        .sorted()
                        .map(a -> "http://" + a + ":" + port() + "/")
                        .toList();
    }

    /** The pairing code of each role (view, record, judge), empty unless shared. */
    public Map<String, String> pairingCodes() {
        Map<String, String> codes = new LinkedHashMap<>();
        @Nullable Pairing pairing = gate.pairing();
        if (pairing != null) {
            for (Role role : Role.values()) {
                String code = pairing.codes().get(role);
                if (code != null) {
                    codes.put(
                            role.name().toLowerCase(java.util.Locale.ROOT),
                            code.substring(0, 4) + " " + code.substring(4));
                }
            }
        }
        return codes;
    }

    /** The lines of a QR code that pairs a telephone to enter and load, empty unless shared on a network. */
    public List<String> pairingQr() {
        Pairing pairing = gate.pairing();
        String code = pairing == null ? null : pairing.codes().get(Role.RECORD);
        List<String> addresses = networkAddresses();
        return code == null || addresses.isEmpty()
                ? List.of()
                : QrCode.lines(DeviceApi.pairLink(addresses.get(0), code));
    }

    /** What opening the study had to tidy up. */
    public List<String> notices() {
        return notices;
    }

    @Override
    public void close() throws IOException {
        app.stop();
        loads.close();
        boat.close();
    }
}
