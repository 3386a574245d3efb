/**
 * The command line: arguments in, use cases of {@code voyage} called, progress and exit codes out.
 *
 * <p>Exit codes: 0 done, 1 unexpected failure, 2 bad arguments or bad input.
 */
@NullMarked
package org.aftercast.cli;

import org.jspecify.annotations.NullMarked;
