/**
 * The command line: arguments in, use cases of {@code voyage} called, progress and exit codes out.
 *
 * <p>Exit codes: 0 done, 1 unexpected failure, 2 bad arguments, bad input, or a file that cannot be read or written.
 */
@NullMarked
package org.aftercast.cli;

import org.jspecify.annotations.NullMarked;
