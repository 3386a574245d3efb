package org.aftercast.voyage;

/** The version of this software, as built into the jar. */
public final class Version {

    private static final String UNPACKED = "0.1.0";

    private Version() {}

    /** The version, for results and cache keys. */
    public static String current() {
        String built = Version.class.getPackage().getImplementationVersion();
        return built == null ? UNPACKED : built;
    }
}
