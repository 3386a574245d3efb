package org.aftercast.voyage;

/** Names of columns as words for people. */
final class ColumnWords {

    private ColumnWords() {}

    /** {@code fightMin} becomes "fight, per minute"; an unknown name stays as it is. */
    static String of(String column) {
        return switch (column) {
            case "fightMin" -> "fight, per minute";
            case "airExposureS" -> "time in air, per second";
            case "waterTempC" -> "water temperature, per °C";
            case "captureDepthM" -> "depth of capture, per metre";
            case "lengthM" -> "length, per metre";
            case "massKg" -> "mass, per kilogram";
            case "injuryScore" -> "injury, per step";
            case "reflexesMissing" -> "reflexes missing, each";
            default -> column;
        };
    }
}
