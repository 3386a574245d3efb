package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.aftercast.web.PageServer;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast serve}. */
@Command(
        name = "serve",
        mixinStandardHelpOptions = true,
        description = "Opens the pages of a study on this machine; ends with Ctrl-C.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class ServeCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Option(names = "--port", paramLabel = "N", description = "Port, 0 for any free one (default: ${DEFAULT-VALUE}).")
    private int port = 7440;

    @Option(
            names = "--share",
            description = "Also for devices on the same network that type a pairing code (default: this machine only).")
    private boolean share;

    @Option(
            names = "--gps",
            paramLabel = "SOURCE",
            description = "The boat's GPS (NMEA 0183): tcp:HOST:PORT, udp:PORT, serial:PORT[:RATE] or log:FILE[:TIMES]"
                    + " to replay a log.")
    private @Nullable String gps;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        if (port < 0 || port > 65_535) {
            throw new ParameterException(spec.commandLine(), "--port: " + port + " is outside 0 to 65535");
        }
        PrintWriter out = spec.commandLine().getOut();
        try (PageServer server = PageServer.start(
                folder,
                port,
                share ? PageServer.Reach.PAIRED_DEVICES : PageServer.Reach.THIS_MACHINE,
                InstantSource.system())) {
            server.listenToGps(gps);
            server.notices().forEach(out::println);
            out.println("The pages: " + server.address());
            if (share) {
                out.println("On this network:");
                server.networkAddresses().forEach(address -> out.println("  " + address));
                out.println("Pairing codes:");
                server.pairingCodes().forEach((role, code) -> out.printf("  %-7s %s%n", role, code));
                server.pairingQr().forEach(out::println);
                out.println("The square pairs a telephone to record; squares for the other roles stand at "
                        + server.address() + "#/pair");
                out.println("Anyone on the network can see what passes; use a network you trust.");
            }
            out.println("Ctrl-C ends it.");
            out.flush();
            CountDownLatch ended = new CountDownLatch(1);
            Runtime.getRuntime().addShutdownHook(new Thread(ended::countDown));
            ended.await();
        }
        return 0;
    }
}
