/**
 * Instruments on board: GPS over serial and sockets, line-in audio.
 */
@NullMarked
package org.aftercast.instruments;

import org.jspecify.annotations.NullMarked;
