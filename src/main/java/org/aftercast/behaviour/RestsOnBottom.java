package org.aftercast.behaviour;

/** Whether animals of this kind can lie still and breathe. */
public enum RestsOnBottom {
    /** It pumps water over its gills and can lie still. */
    YES,
    /** It must keep swimming. */
    NO,
    /** Not known; treated as possible. */
    UNKNOWN
}
