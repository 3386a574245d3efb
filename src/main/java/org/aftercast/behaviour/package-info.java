/**
 * From the one-per-second table and the beats to bouts, events and recovery.
 *
 * <p>Entry point: {@link org.aftercast.behaviour.BehaviourReader}. Data flow: limits (release, detachment) → minutes and
 * the animal's own yardsticks → living states by a hidden Markov model with explicit durations → bursts → the turnings
 * (stillness to the end, another body) with their signs → bouts → recovery of the animal's own time. Does not belong here:
 * the judgement of how it ended (see {@code fate}).
 */
@NullMarked
package org.aftercast.behaviour;

import org.jspecify.annotations.NullMarked;
