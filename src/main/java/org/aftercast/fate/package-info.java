/**
 * Evidence, probabilities, verdicts and reader agreement: what became of the animal and how the record ended.
 *
 * <p>Entry point: {@link org.aftercast.fate.FateReader}. Data flow: the turnings of {@code behaviour} with their signs, and
 * what people saw → log-odds → probabilities, evidence in sentences, the one-word call.
 *
 * <p>The two are kept apart throughout: {@link org.aftercast.fate.AnimalFate} and {@link org.aftercast.fate.RecordEnd}.
 */
@NullMarked
package org.aftercast.fate;

import org.jspecify.annotations.NullMarked;
