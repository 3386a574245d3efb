/**
 * The local server, its JSON interface and the pages.
 *
 * <p>Entry point: {@link org.aftercast.web.PageServer}. A request passes the {@code Gate} (host, origin, who asks and what
 * they may do), then one {@code Route}, which calls a use case of {@code voyage} and answers as JSON. Pages are plain
 * files under {@code src/main/resources/org/aftercast/web}; nothing is fetched from elsewhere.
 *
 * <p>Does not belong here: anything a command could also need (see {@code voyage}), anything drawn for the report (see
 * {@code report}).
 */
@NullMarked
package org.aftercast.web;

import org.jspecify.annotations.NullMarked;
