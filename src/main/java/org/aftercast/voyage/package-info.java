/**
 * The use cases: enter, load, read, seek, judge, estimate, report, verify, demo.
 *
 * <p>Maps the records of one room to the inputs of another; holds the one {@code Settings} record
 * that is serialised into every result.
 */
@NullMarked
package org.aftercast.voyage;

import org.jspecify.annotations.NullMarked;
