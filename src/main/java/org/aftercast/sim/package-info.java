/**
 * Invented animals, seas and hunts with known truth, for tests, evaluation and the demo.
 *
 * <p>Built from physics (body sway, gravity, buoyancy, waves), never from the detectors' formulas: it imports nothing of
 * {@code motion}, {@code behaviour} or {@code fate}. Everything here is invented and labelled so.
 */
@NullMarked
package org.aftercast.sim;

import org.jspecify.annotations.NullMarked;
