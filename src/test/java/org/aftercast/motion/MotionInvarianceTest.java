package org.aftercast.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.lang.reflect.RecordComponent;
import java.util.Set;
import java.util.concurrent.ForkJoinPool;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleSource;
import org.aftercast.sim.RecordingSimulator;
import org.aftercast.sim.Scenario;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What must not change the reading of a recording: how its samples are delivered, and how many threads read it. */
class MotionInvarianceTest {

    private static final double RATE_HZ = 25;
    private static Recording recording;
    private static MotionReading whole;

    @BeforeAll
    static void simulate() {
        Scenario base = Scenario.swimmer();
        recording = RecordingSimulator.simulate(
                        base.withLogger(base.logger().with(RATE_HZ, 3.3))
                                .withEnding(base.ending().with(base.ending().course(), 3, 4)),
                        7)
                .recording();
        whole = MotionReader.read(recording, MotionSettings.defaults());
        assertThat(whole.beats().count()).isGreaterThan(5000);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 60, 3600})
    void chunksInWhichSamplesArriveChangeNoBit(int chunkS) throws Exception {
        Recording chunked = new Recording(
                recording.sourceSha256(),
                recording.clock(),
                new Chunks(recording.samples(), (int) (chunkS * RATE_HZ)),
                recording.gaps(),
                recording.flags());
        same(MotionReader.read(chunked, MotionSettings.defaults()));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 4})
    void threadsChangeNoBit(int threads) throws Exception {
        ForkJoinPool pool = new ForkJoinPool(threads);
        try {
            same(pool.submit(() -> MotionReader.read(recording, MotionSettings.defaults()))
                    .get());
        } finally {
            pool.shutdown();
        }
    }

    /**
     * The length of the frames in which the program itself works does not reach the result beyond the settling of filters
     * and the grouping of cycles: bounds as printed in docs/reading.md.
     */
    @ParameterizedTest
    @ValueSource(ints = {60, 600})
    void framesOfAnotherLengthChangeLittle(int seconds) {
        MotionReading other = MotionReader.read(
                recording,
                MotionSettings.defaults(),
                new Frames(RATE_HZ, recording.samples().sampleCount(), seconds));
        assertThat((double) other.beats().count() / whole.beats().count()).isCloseTo(1, within(2e-3));
        int n = whole.seconds().seconds();
        int beatsApart = 0;
        for (int k = 0; k < n; k++) {
            assertThat(other.seconds().pitchDeg()[k]).isCloseTo(whole.seconds().pitchDeg()[k], within(0.2f));
            assertThat(other.seconds().dynamicL2G()[k])
                    .isCloseTo(whole.seconds().dynamicL2G()[k], within(2e-3f));
            float a = other.seconds().beatHz()[k];
            float b = whole.seconds().beatHz()[k];
            if (Float.isNaN(a) != Float.isNaN(b) || Math.abs(a - b) > 0.02 * b) {
                beatsApart++;
            }
        }
        assertThat(beatsApart).isLessThan(n / 50);
    }

    private static void same(MotionReading other) throws ReflectiveOperationException {
        for (RecordComponent part : SecondTable.class.getRecordComponents()) {
            assertThat((float[]) part.getAccessor().invoke(other.seconds()))
                    .as(part.getName())
                    .isEqualTo((float[]) part.getAccessor().invoke(whole.seconds()));
        }
        assertThat(other.beats().startS()).isEqualTo(whole.beats().startS());
        assertThat(other.beats().periodS()).isEqualTo(whole.beats().periodS());
        assertThat(other.beats().amplitudeG()).isEqualTo(whole.beats().amplitudeG());
        assertThat(other.beats().confidence()).isEqualTo(whole.beats().confidence());
        assertThat(other.noiseG()).isEqualTo(whole.noiseG());
        assertThat(other.notes()).isEqualTo(whole.notes());
    }

    /** A source that holds its samples in pieces of one length, each read on its own. */
    private record Chunks(SampleSource of, int length) implements SampleSource {

        @Override
        public long sampleCount() {
            return of.sampleCount();
        }

        @Override
        public Set<Channel> channels() {
            return of.channels();
        }

        @Override
        public void read(Channel channel, long fromSample, int count, float[] into, int at) {
            float[] chunk = new float[length];
            long sample = fromSample;
            int to = at;
            while (sample < fromSample + count) {
                long start = sample / length * length;
                int held = (int) Math.min(length, of.sampleCount() - start);
                of.read(channel, start, held, chunk, 0);
                int within = (int) (sample - start);
                int n = (int) Math.min(held - within, fromSample + count - sample);
                System.arraycopy(chunk, within, into, to, n);
                sample += n;
                to += n;
            }
        }
    }
}
