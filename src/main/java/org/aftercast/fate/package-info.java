/**
 * Evidence, probabilities, verdicts and reader agreement: what became of the animal and how the record ended.
 *
 * <p>The two are kept apart throughout: {@link org.aftercast.fate.AnimalFate} and {@link org.aftercast.fate.RecordEnd}.
 */
@NullMarked
package org.aftercast.fate;

import org.jspecify.annotations.NullMarked;
