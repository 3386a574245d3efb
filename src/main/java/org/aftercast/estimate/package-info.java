/**
 * What all animals together say: mortality, time to death, risk factors, recovery across animals, planning.
 *
 * <p>Input is one {@link org.aftercast.estimate.AnimalOutcome} per animal. Every result names its method, its
 * assumptions and, where the data cannot carry it, refuses with the reason.
 */
@NullMarked
package org.aftercast.estimate;

import org.jspecify.annotations.NullMarked;
