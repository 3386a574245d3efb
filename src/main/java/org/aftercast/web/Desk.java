package org.aftercast.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** The one study that is served: opened for looking whenever it is asked for, for writing by one request at a time. */
final class Desk {

    private static final int LONGEST_WAIT_S = 20;

    private final Path folder;
    private final InstantSource clock;
    private final FileStore files = FileStore.onDisk();
    private final ReentrantLock writing = new ReentrantLock();

    Desk(Path folder, InstantSource clock) {
        this.folder = folder;
        this.clock = clock;
    }

    Path folder() {
        return folder;
    }

    InstantSource clock() {
        return clock;
    }

    FileStore files() {
        return files;
    }

    /** Work on the open study that changes nothing. */
    interface Look<T> {
        T at(StudyStore store) throws Exception;
    }

    /** Work that writes through a use case, which opens the study by itself. */
    interface Work<T> {
        T run() throws Exception;
    }

    <T> T look(Look<T> look) throws Exception {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, files, clock)) {
            return look.at(store);
        }
    }

    /** Takes turns with other requests that write. */
    <T> T write(Work<T> work) throws Exception {
        if (!writing.tryLock(LONGEST_WAIT_S, TimeUnit.SECONDS)) {
            throw new ApiException(
                    ApiException.Kind.BUSY,
                    "a long piece of work is writing to the study; nothing was changed, try again in a moment");
        }
        try {
            return work.run();
        } finally {
            writing.unlock();
        }
    }

    /** Brings an old study up to date once, before looking only is possible, and tidies up. */
    java.util.List<String> open() throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            return store.notices();
        }
    }

    /** Who looks: as the page says, else the paired device's name, or null. */
    static @Nullable String whoOrNull(Context ctx, Pairing.@Nullable Device device) {
        String who = ctx.queryParam("who");
        if (who != null && !who.isBlank()) {
            return who.strip();
        }
        return device == null ? null : device.name();
    }

    /** Who makes a change: as the page says, else the paired device's name. */
    static String who(Context ctx, Pairing.@Nullable Device device) throws ApiException {
        String who = whoOrNull(ctx, device);
        if (who != null) {
            return who;
        }
        throw new ApiException(
                ApiException.Kind.BAD_INPUT,
                "who: say who makes this change (your code, at the top of the page)",
                java.util.List.of(new ApiException.Problem("who", "is missing")));
    }
}
