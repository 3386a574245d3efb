package org.aftercast.web;

/** What whoever asks may do; each role includes the ones before it. */
enum Role {
    /** Nothing but the pages themselves and pairing. */
    NOBODY,
    /** Look at everything. */
    VIEW,
    /** Also enter, correct, load and read. */
    RECORD,
    /** Also give verdicts and settle them. */
    JUDGE;

    boolean includes(Role needed) {
        return compareTo(needed) >= 0;
    }
}
