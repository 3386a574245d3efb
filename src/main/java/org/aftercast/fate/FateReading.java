package org.aftercast.fate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What became of the animal, how sure that is, and why.
 *
 * @param settings as given
 * @param inputs as given
 * @param call the one-word call, everything considered
 * @param animal what became of the animal
 * @param recordEnd how the record ended
 * @param probabilities everything considered
 * @param recordOnlyCall the call without what people saw
 * @param recordOnly probabilities without what people saw
 * @param changeAtS when it died, was eaten or lost its package; null for a survivor
 * @param evidence what speaks for and against, strongest first
 * @param wouldChangeTheMind what would have to be seen for another call
 * @param lastCertainSignOfLifeS end of the last swimming of its own, seconds from the first sample
 * @param predator what took it, when it was eaten
 * @param endings the ways in which it may have ended, finer than the four fates, likeliest first
 * @param summary one sentence
 * @param notes warnings and assumptions
 */
public record FateReading(
        FateSettings settings,
        FateInputs inputs,
        FateCall call,
        AnimalFate animal,
        RecordEnd recordEnd,
        FateProbabilities probabilities,
        FateCall recordOnlyCall,
        FateProbabilities recordOnly,
        @Nullable ChangeTime changeAtS,
        List<Evidence> evidence,
        List<String> wouldChangeTheMind,
        double lastCertainSignOfLifeS,
        Predator predator,
        List<Ending> endings,
        String summary,
        List<String> notes) {

    public FateReading {
        evidence = List.copyOf(evidence);
        endings = List.copyOf(endings);
        wouldChangeTheMind = List.copyOf(wouldChangeTheMind);
        notes = List.copyOf(notes);
    }

    /** What took it. */
    public enum Predator {
        NONE,
        /** Swallowed whole by a warm-bodied animal. */
        WARM,
        /** Swallowed whole by an animal as cold as the water, or the temperature does not tell. */
        COLD_OR_UNKNOWN,
        /** Bitten: what was left sank. */
        BITTEN
    }
}
