/**
 * The local server, its JSON interface and the pages.
 */
@NullMarked
package org.aftercast.web;

import org.jspecify.annotations.NullMarked;
