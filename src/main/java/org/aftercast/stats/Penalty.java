package org.aftercast.stats;

/** What is added to the log-likelihood before it is maximised. */
public enum Penalty {
    /** Nothing: ordinary maximum likelihood. */
    NONE,
    /**
     * ½·log det(information), Jeffreys' prior: finite estimates under complete separation and less bias with few events
     * (key {@code firth1993}).
     */
    FIRTH
}
