package org.aftercast.behaviour;

/**
 * A stretch of one kind.
 *
 * @param kind what
 * @param startS start in seconds from the first sample
 * @param endS end, &gt; startS
 * @param probability 0–1, mean posterior probability of the kind over the stretch
 */
public record Bout(BoutKind kind, double startS, double endS, double probability) {}
