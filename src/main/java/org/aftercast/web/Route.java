package org.aftercast.web;

import io.javalin.http.Context;

/**
 * One route of the JSON interface; docs/api.md has a heading for each.
 *
 * @param method GET, PUT or POST
 * @param path with {@code {name}} for what varies
 * @param needs what whoever asks must be allowed to do
 * @param work what it does
 */
record Route(String method, String path, Role needs, Work work) {

    /** Answers one request. */
    @FunctionalInterface
    interface Work {
        void answer(Context ctx) throws Exception;
    }
}
