package org.aftercast.cli;

import java.util.Locale;
import picocli.CommandLine.Option;

/** Who makes a change; noted in the study's history. */
final class WhoOption {

    @Option(
            names = "--who",
            paramLabel = "CODE",
            description = "Who does this, noted in the study's history (default: your account's name).")
    private String who = account();

    String who() {
        return who;
    }

    private static String account() {
        String name = System.getProperty("user.name", "").replaceAll("[^A-Za-z0-9._-]", "");
        String trimmed = name.replaceAll("^[^A-Za-z0-9]+", "").replaceAll("[.]+$", "");
        return trimmed.isEmpty()
                ? "unknown"
                : trimmed.substring(0, Math.min(60, trimmed.length())).toLowerCase(Locale.ROOT);
    }
}
