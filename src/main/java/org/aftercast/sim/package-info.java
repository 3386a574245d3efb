/**
 * Invented animals, seas and hunts with known truth, for tests, evaluation and the demo.
 *
 * <p>Built from physics (body sway, gravity, buoyancy, waves), never from the detectors' formulas: it imports nothing of
 * {@code motion}, {@code behaviour} or {@code fate}. Everything here is invented and labelled so.
 *
 * <p>Entry points: {@link org.aftercast.sim.Scenario} (everything physical, with units), {@link
 * org.aftercast.sim.RecordingSimulator} (scenario and seed in, samples and {@link org.aftercast.sim.Truth} out) and
 * {@code ScenarioDraw} (random scenarios from a range of difficulty). Inside, {@code Life} tells the story a quarter of a
 * second at a time; {@code Stroke}, {@code Waves} and {@code Turn} are the mechanics that turn it into what a sensor
 * reads.
 *
 * <p>Does not belong here: files, and anything that reads a recording.
 */
@NullMarked
package org.aftercast.sim;

import org.jspecify.annotations.NullMarked;
