package org.aftercast.search;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * One search: drift forecast, fix and advice from all that was noted.
 *
 * <p>Observations are added in order of time; to undo one, or to add one out of order, {@link #replay} the rest (60
 * observations with 20 000 particles take about half a second). The same settings, start and observations give the same
 * fix. Not thread-safe.
 *
 * <p>Depth, traffic and shoals are not modelled. The skipper's judgement and local rules come first.
 */
public final class Hunt {

    private static final int LAST_REPORTS = 6;
    private static final int LOST_REPORTS = 4;
    private static final int MOST_REVIVALS = 5;
    private static final int MOST_PARTICLES = 200_000;

    /** Of what cannot be heard: still attached, inside a predator, dead (judgement). */
    private static final double[] MUTE = {0.4, 0.2, 0.4};

    private static final double[] MUTE_WHEN_PLANNED = {0, 0.33, 0.67};

    private final HuntStart start;
    private final SearchSettings settings;
    private final BearingCorrection correction;
    private final Hearing hearing;
    private final Likelihoods likelihoods;
    private final List<Boolean> surprises = new ArrayList<>();
    private final int revival;
    private Cloud cloud;
    private double logEvidence;
    private int revivals;
    private int revivedAt;
    private final List<Observation> observations = new ArrayList<>();
    private final List<BearingNote> bearings = new ArrayList<>();
    private double logHeardEvidence;
    private double logMuteEvidence;
    private double missChance = 1;
    private int earlyPings;
    private boolean heardEver;

    /** A bearing used, for residuals and the classical fix. */
    record BearingNote(int number, Instant time, Position own, double trueDeg, double extraSdDeg, String how) {}

    private Hunt(HuntStart start, SearchSettings settings, BearingCorrection correction, int revival) {
        this.revival = revival;
        this.start = start;
        this.settings = settings;
        this.correction = correction;
        this.hearing = new Hearing(settings.hearing());
        this.likelihoods = new Likelihoods(settings, hearing);
        this.cloud = Cloud.around(start, settings);
    }

    /** Opens a search. */
    public static Hunt open(HuntStart start, SearchSettings settings, BearingCorrection correction) {
        return new Hunt(start, settings, correction, 0);
    }

    /** Opens a search and adds observations, put in order of time first. */
    public static Hunt replay(
            HuntStart start,
            SearchSettings settings,
            BearingCorrection correction,
            List<? extends Observation> observations) {
        Hunt hunt = open(start, settings, correction);
        observations.stream().sorted(Comparator.comparing(Observation::time)).forEach(hunt::add);
        return hunt;
    }

    /** What the search was opened with. */
    public HuntStart start() {
        return start;
    }

    /** The settings. */
    public SearchSettings settings() {
        return settings;
    }

    /** The hearing model, for range rings. */
    public Hearing hearing() {
        return hearing;
    }

    /** Observations in order. */
    public List<Observation> observations() {
        return List.copyOf(observations);
    }

    /** Time of the last observation, or of the contact when there is none. */
    public Instant time() {
        return cloud.time();
    }

    Cloud cloud() {
        return cloud;
    }

    List<BearingNote> bearings() {
        return bearings;
    }

    boolean heardEver() {
        return heardEver;
    }

    /**
     * Adds an observation.
     *
     * @throws IllegalArgumentException if it is earlier than the last one or than the contact, or too far away
     */
    public void add(Observation observation) {
        if (observation.time().isBefore(cloud.time())) {
            throw new IllegalArgumentException("time: " + observation.time() + " is before "
                    + (observations.isEmpty() ? "the last contact, " : "the last observation, ") + cloud.time());
        }
        LocalPlane.Point own = start.land().plane().toPlane(observation.own());
        cloud.advance(observation.time());
        int number = observations.size();
        if (observation instanceof Observation.Bearing b) {
            addBearing(number, b, own);
        } else if (observation instanceof Observation.Listen l) {
            addListen(l, own);
        } else if (observation instanceof Observation.Sweep s) {
            addSweep(number, s, own);
        } else if (observation instanceof Observation.Sighting s) {
            addSighting(s, own);
        } else if (observation instanceof Observation.Drift d) {
            cloud.weigh(likelihoods.drift(own, d, start.sea().windAt(d.time())));
            cloud.redrawRestless();
        }
        observations.add(observation);
        if (revival == 0 && revivals < MOST_REVIVALS && lost()) {
            revive();
        }
    }

    /** Whether most of the last reports were ones the cloud hardly held possible. */
    private boolean lost() {
        int n = surprises.size();
        if (n - revivedAt < LAST_REPORTS) {
            return false;
        }
        long many =
                surprises.subList(n - LAST_REPORTS, n).stream().filter(s -> s).count();
        return many >= LOST_REPORTS;
    }

    /**
     * A cloud that has gathered in the wrong place cannot leave it: there are no particles elsewhere. All observations are then
     * reckoned anew with four times as many particles and other randomness, and that cloud is taken, thinned out, if it foresaw
     * them better.
     */
    private void revive() {
        revivals++;
        revivedAt = surprises.size();
        int many = Math.min(MOST_PARTICLES, 4 * settings.particles());
        Hunt fresh = new Hunt(start, settings.with(many, settings.seed() + 7919L * revivals), correction, revivals);
        observations.forEach(fresh::add);
        if (fresh.logEvidence > logEvidence) {
            cloud = fresh.cloud.thinned(settings);
            logEvidence = fresh.logEvidence;
            logHeardEvidence = fresh.logHeardEvidence;
            logMuteEvidence = fresh.logMuteEvidence;
            missChance = fresh.missChance;
        }
    }

    private void noted(double evidence, double surprising) {
        logEvidence += evidence;
        surprises.add(evidence < Math.log(surprising));
    }

    private void addBearing(int number, Observation.Bearing b, LocalPlane.Point own) {
        BearingCorrection.TrueBearing corrected =
                correction.correct(b.bearingDeg(), b.source(), b.headingDeg(), b.own(), b.time());
        useBearing(number, b, own, corrected, b.sdDeg(), b.antenna().backShare(), b.gainStep());
    }

    private void useBearing(
            int number,
            Observation from,
            LocalPlane.Point own,
            BearingCorrection.TrueBearing corrected,
            @Nullable Double sdDeg,
            double backShare,
            int gainStep) {
        hearing.attenuationDb(gainStep);
        cloud.wanderMargin(own.xM(), own.yM());
        double turn = start.land().plane().convergenceDeg(from.own());
        cloud.residuals.add(new float[cloud.size()]);
        double evidence = cloud.weigh(likelihoods.bearing(
                own,
                corrected.bearingDeg() + turn,
                sdDeg,
                corrected.extraSdDeg(),
                backShare,
                gainStep,
                cloud.residuals.size() - 1));
        noted(evidence, 0.1 / (2 * Math.PI));
        bearings.add(new BearingNote(
                number, from.time(), from.own(), corrected.bearingDeg(), corrected.extraSdDeg(), corrected.how()));
        heard(from.time(), evidence, settings.hearing().falseChance() / (2 * Math.PI));
    }

    private void addListen(Observation.Listen l, LocalPlane.Point own) {
        hearing.attenuationDb(l.gainStep());
        cloud.wanderMargin(own.xM(), own.yM());
        double turn = start.land().plane().convergenceDeg(l.own());
        double evidence = cloud.weigh(likelihoods.listen(own, l, turn));
        noted(evidence, 0.2);
        if (l.heard() == Observation.Listen.Heard.HEARD) {
            heard(l.time(), evidence, settings.hearing().falseChance());
        } else {
            logHeardEvidence += evidence;
            logMuteEvidence += Math.log(1 - settings.hearing().falseChance());
            missChance *= Math.exp(evidence);
        }
    }

    private void addSweep(int number, Observation.Sweep s, LocalPlane.Point own) {
        SweepBearing.Result fit = SweepBearing.fit(s.points(), s.antenna());
        if (fit.kind() == SweepBearing.Kind.BEARING) {
            BearingCorrection.TrueBearing corrected =
                    correction.correct(fit.bearingDeg(), s.source(), s.headingDeg(), s.own(), s.time());
            useBearing(number, s, own, corrected, fit.totalSdDeg(), fit.backShare(), s.gainStep());
        } else {
            addListen(
                    new Observation.Listen(
                            s.time(),
                            s.own(),
                            s.gainStep(),
                            fit.kind() == SweepBearing.Kind.NOT_HEARD
                                    ? Observation.Listen.Heard.NOT_HEARD
                                    : Observation.Listen.Heard.HEARD,
                            s.antenna(),
                            null,
                            null,
                            settings.hearing().lookS()),
                    own);
        }
    }

    private void addSighting(Observation.Sighting s, LocalPlane.Point own) {
        Double distance = s.distanceM();
        if (s.seen() == Observation.Sighting.Seen.NOT_SEEN) {
            logEvidence += cloud.weigh(likelihoods.notSeen(
                    own, distance == null ? settings.advice().visualRangeM() : distance));
            return;
        }
        Double bearing = s.bearingDeg();
        double far = distance == null ? settings.advice().visualRangeM() / 2 : distance;
        if (bearing == null && far > 60) {
            cloud.gatherAt(own.xM(), own.yM(), Math.max(30, far));
            cloud.weigh(likelihoods.seenAtDistance(own, far, Math.max(20, 0.3 * far)));
            return;
        }
        double plane = Math.toRadians(
                (bearing == null ? 0 : bearing) + start.land().plane().convergenceDeg(s.own()));
        double along = bearing == null ? 0 : far;
        cloud.gatherAt(
                own.xM() + along * Math.sin(plane), own.yM() + along * Math.cos(plane), Math.max(20, 0.25 * far));
    }

    private void heard(Instant time, double evidence, double ifMute) {
        logHeardEvidence += evidence;
        logMuteEvidence += Math.log(ifMute);
        heardEver = true;
        if (beforeDetachment(time)) {
            earlyPings++;
        }
    }

    private boolean beforeDetachment(Instant time) {
        Instant planned = start.plannedDetachment();
        return planned != null && time.isBefore(planned);
    }

    /** Where the package is at a time not before the last observation. */
    public Fix fixAt(Instant time) {
        if (time.isBefore(cloud.time())) {
            throw new IllegalArgumentException("time: " + time + " is before the last observation, " + cloud.time());
        }
        Cloud at = cloud;
        if (!time.equals(cloud.time())) {
            at = cloud.copy(1);
            at.advance(time);
        }
        return HuntReadout.fix(at, start.land().plane());
    }

    /**
     * Where it will be, hour by hour: the fix at {@code from} and after 1, 2, … hours.
     *
     * @param hours 0–240
     */
    public List<Fix> forecast(Instant from, int hours) {
        if (hours < 0 || hours > 240) {
            throw new IllegalArgumentException("hours: " + hours + " is outside 0–240");
        }
        Cloud at = cloud.copy(2);
        List<Fix> fixes = new ArrayList<>();
        for (int h = 0; h <= hours; h++) {
            at.advance(from.plus(Duration.ofHours(h)));
            fixes.add(HuntReadout.fix(at, start.land().plane()));
        }
        return fixes;
    }

    /** How each bearing agrees with everything known now. */
    public List<Residual> residuals() {
        return HuntReadout.residuals(bearings, cloud, settings.bearings().wildShare());
    }

    /** Chance that a sounding beacon where the forecast has it would have been heard by now; 0 before any silence. */
    public double detectionOddsSoFar() {
        return 1 - missChance;
    }

    /** What may have become of the package. */
    public BeaconState beaconState() {
        double prior = settings.hearing().muteShare();
        double odds = prior / (1 - prior) * Math.exp(Math.min(500, logMuteEvidence - logHeardEvidence));
        double mute = odds / (1 + odds);
        Instant planned = start.plannedDetachment();
        Instant began = start.contact().time();
        boolean attachedAtStart = planned != null && planned.isAfter(began);
        double attached = (1 - mute) * cloud.attachedShare();
        double ashore = (1 - mute) * cloud.ashoreShare();
        // Without a planned detachment ahead, attachment is one of the reasons for a mute beacon.
        double[] shares = attachedAtStart ? MUTE_WHEN_PLANNED : MUTE;
        BeaconState.ShedEarly early = planned == null
                ? BeaconState.ShedEarly.NOT_KNOWN
                : earlyPings == 0
                        ? BeaconState.ShedEarly.NO
                        : earlyPings == 1 ? BeaconState.ShedEarly.ONE_REPORT : BeaconState.ShedEarly.YES;
        double earlyChance = !attachedAtStart || planned == null
                ? 0
                : cloud.offBefore(Sea.seconds(began, planned)
                        - 180 * settings.attachment().offSdMin());
        return new BeaconState(
                Math.max(0, 1 - mute - ashore - attached),
                ashore,
                attached + shares[0] * mute,
                shares[1] * mute,
                shares[2] * mute,
                early,
                earlyChance);
    }

    /** What the search has learnt about hearing: mean margin in dB and its standard deviation. */
    public double[] learntMarginDb() {
        double mean = cloud.mean(cloud.marginDb);
        return new double[] {mean, cloud.sd(cloud.marginDb, mean)};
    }

    /** Ranges of each gain step with what the search has learnt. */
    public List<Hearing.Range> ranges() {
        double[] margin = learntMarginDb();
        return hearing.ranges(margin[0], margin[1]);
    }

    /** The classical fix from the bearings alone, as if the package lay still; null with fewer than two bearings. */
    public @Nullable BearingFix classicalFix(BearingFix.Method method) {
        if (bearings.size() < 2) {
            return null;
        }
        LocalPlane plane = start.land().plane();
        List<BearingFix.Line> lines = new ArrayList<>();
        for (BearingNote note : bearings) {
            LocalPlane.Point own = plane.toPlane(note.own());
            lines.add(new BearingFix.Line(own.xM(), own.yM(), note.trueDeg() + plane.convergenceDeg(note.own())));
        }
        return BearingFix.of(
                lines, method, VonMises.concentrationOfSd(settings.bearings().sdDeg()));
    }

    /** Chance of hearing at the highest gain from a place, after drifting to a time; for planning. */
    public double chanceOfHearing(Position from, Instant time) {
        Cloud at = cloud.copy(3);
        at.advance(time.isBefore(cloud.time()) ? cloud.time() : time);
        LocalPlane.Point own = start.land().plane().toPlane(from);
        double sum = 0;
        for (int i = 0; i < at.size(); i++) {
            sum += at.weight[i]
                    * hearing.chance(Math.hypot(at.x[i] - own.xM(), at.y[i] - own.yM()), 1, at.marginOf(i), 0);
        }
        return sum;
    }
}
