package org.aftercast.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.search.PingMeter;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.HearPings;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast hear}: the beacon's pings in a recording or at the line input. */
@Command(
        name = "hear",
        mixinStandardHelpOptions = true,
        description =
                "Finds a beacon's pings in the receiver's sound: pitch, rate, level above the noise. Levels can be"
                        + " compared at the same gain only.")
final class HearCommand implements Callable<Integer> {

    @Parameters(
            index = "0",
            arity = "0..1",
            paramLabel = "FILE",
            description = "Sound: uncompressed WAV, AIFF or AU. Without it: the line input of this machine.")
    private @Nullable Path file;

    @Option(
            names = "--seconds",
            paramLabel = "N",
            defaultValue = "20",
            description = "How long to listen at the line input, 6-120 (default: ${DEFAULT-VALUE}).")
    private double seconds;

    @Option(
            names = "--least",
            paramLabel = "N",
            defaultValue = "30",
            description = "Slowest ping rate a minute, 20 or more (default: ${DEFAULT-VALUE}).")
    private double leastPerMinute;

    @Option(
            names = "--most",
            paramLabel = "N",
            defaultValue = "120",
            description = "Fastest ping rate a minute, at most 200 (default: ${DEFAULT-VALUE}).")
    private double mostPerMinute;

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Override
    public Integer call() throws IOException, BadInputException {
        PingMeter.Settings usual = PingMeter.Settings.defaults();
        PingMeter.Settings settings;
        try {
            settings = new PingMeter.Settings(
                    usual.lowHz(), usual.highHz(), leastPerMinute, mostPerMinute, usual.longestS());
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), "--least, --most: " + bad.getMessage(), bad);
        }
        PingMeter.Reading reading =
                file == null ? HearPings.lineInput(seconds, settings) : HearPings.file(file, settings);
        PrintWriter out = spec.commandLine().getOut();
        out.println(reading.note());
        if (reading.verdict() == PingMeter.Verdict.PINGS || reading.verdict() == PingMeter.Verdict.SATURATED) {
            out.printf(
                    Locale.ROOT,
                    "Level %.1f dB of full scale, %.1f dB above the noise at its pitch, %+.1f dB against all noise;"
                            + " %d pings folded.%n",
                    reading.levelDb(),
                    reading.aboveNoiseDb(),
                    reading.aboveBandDb(),
                    reading.pings());
        }
        out.flush();
        return 0;
    }
}
