package org.aftercast.motion;

/**
 * How the package sits on the animal from some moment on, as somebody who knows gives it.
 *
 * @param fromS seconds from the first sample, ≥ 0
 * @param pitchDeg pitch that the sensor shows while the animal lies level, −90 to 90
 * @param rollDeg roll that the sensor shows then, −180 to 180
 * @param yawDeg turn, seen from above and anticlockwise, from the levelled sensor's x axis to the animal's head, −180 to 180
 */
public record MountPose(double fromS, double pitchDeg, double rollDeg, double yawDeg) {

    public MountPose {
        if (!(fromS >= 0)) {
            throw new IllegalArgumentException("mount: fromS " + fromS + " is before the first sample (0)");
        }
        within("pitchDeg", pitchDeg, 90);
        within("rollDeg", rollDeg, 180);
        within("yawDeg", yawDeg, 180);
    }

    private static void within(String name, double value, double most) {
        if (!(Math.abs(value) <= most)) {
            throw new IllegalArgumentException("mount: " + name + " " + value + " is outside −" + most + " to " + most);
        }
    }

    /** The rotation that turns sensor vectors into body vectors, row by row: level first, then turn. */
    public double[] rotation() {
        double pitch = Math.toRadians(pitchDeg);
        double roll = Math.toRadians(rollDeg);
        double[] level =
                Posture.levelling(Math.sin(pitch), Math.sin(roll) * Math.cos(pitch), Math.cos(roll) * Math.cos(pitch));
        double c = Math.cos(Math.toRadians(yawDeg));
        double s = Math.sin(Math.toRadians(yawDeg));
        double[] rotation = new double[9];
        for (int k = 0; k < 3; k++) {
            rotation[k] = c * level[k] + s * level[3 + k];
            rotation[3 + k] = -s * level[k] + c * level[3 + k];
            rotation[6 + k] = level[6 + k];
        }
        return rotation;
    }

    /** The pose of a rotation: what {@link #rotation()} came from. */
    public static MountPose of(double fromS, double[] rotation) {
        double x = rotation[6];
        double y = rotation[7];
        double z = rotation[8];
        double[] level = Posture.levelling(x, y, z);
        double cos = 0;
        double sin = 0;
        for (int k = 0; k < 3; k++) {
            cos += rotation[k] * level[k];
            sin += rotation[k] * level[3 + k];
        }
        return new MountPose(
                fromS,
                Math.toDegrees(Math.atan2(x, Math.hypot(y, z))),
                Math.toDegrees(Math.atan2(y, z)),
                Math.toDegrees(Math.atan2(sin, cos)));
    }
}
