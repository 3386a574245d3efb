/**
 * From acceleration and depth to body frame, posture, activity and tailbeats.
 *
 * <p>Entry point: {@code MotionReader}. Data flow: {@code Recording} in; frames at absolute sample
 * indices; out comes a {@link org.aftercast.motion.MotionReading}: beats, a one-per-second table, the body frame by
 * block, noise floors and warnings.
 *
 * <p>Does not belong here: what the animal was doing (see {@code behaviour}) or what became of it (see {@code fate}).
 */
@NullMarked
package org.aftercast.motion;

import org.jspecify.annotations.NullMarked;
