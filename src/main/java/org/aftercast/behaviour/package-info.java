/**
 * From the one-per-second table and the beats to bouts, events and recovery.
 *
 * <p>Entry point: {@code BehaviourReader}. Does not belong here: the judgement of how it ended
 * (see {@code fate}).
 */
@NullMarked
package org.aftercast.behaviour;

import org.jspecify.annotations.NullMarked;
