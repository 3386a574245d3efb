/**
 * The hunt for one drifting package: drift forecast, observations, fix, advice, ping meter.
 */
@NullMarked
package org.aftercast.search;

import org.jspecify.annotations.NullMarked;
