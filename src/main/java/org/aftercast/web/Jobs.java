package org.aftercast.web;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BiConsumer;

/** Work that takes a while, one after the other; its state can be asked for until the server ends. */
final class Jobs implements AutoCloseable {

    /** Where a piece of work stands. */
    enum Stand {
        WAITING,
        UNDER_WAY,
        DONE,
        CANCELLED,
        REFUSED
    }

    /**
     * A piece of work as the page sees it.
     *
     * @param stand where it stands
     * @param done so much
     * @param total of so much; 0 when not known
     * @param result what came out, empty until done
     * @param error the one error shape's inside when refused, else empty
     */
    record State(Stand stand, long done, long total, Map<String, Object> result, Map<String, Object> error) {}

    /** The work: told progress, asked to stop. */
    interface Work {
        Map<String, Object> run(BiConsumer<Long, Long> progress, AtomicBoolean cancel) throws Exception;
    }

    private static final int MOST_KEPT = 100;
    private static final int LONGEST_STOP_S = 15;

    private final ExecutorService worker = Executors.newSingleThreadExecutor(task -> {
        Thread thread = new Thread(task, "load");
        thread.setDaemon(true);
        return thread;
    });
    private final Map<String, Job> jobs = new LinkedHashMap<>();

    private static final class Job {
        volatile State state = new State(Stand.WAITING, 0, 0, Map.of(), Map.of());
        final AtomicBoolean cancel = new AtomicBoolean();
    }

    synchronized String start(Work work) {
        String id = UUID.randomUUID().toString();
        Job job = new Job();
        jobs.put(id, job);
        while (jobs.size() > MOST_KEPT) {
            jobs.remove(jobs.keySet().iterator().next());
        }
        worker.execute(() -> run(job, work));
        return id;
    }

    private static void run(Job job, Work work) {
        try {
            if (job.cancel.get()) {
                throw new CancellationException();
            }
            job.state = new State(Stand.UNDER_WAY, 0, 0, Map.of(), Map.of());
            Map<String, Object> result = work.run(
                    (done, total) -> job.state = new State(Stand.UNDER_WAY, done, total, Map.of(), Map.of()),
                    job.cancel);
            State last = job.state;
            job.state = new State(Stand.DONE, last.total(), last.total(), result, Map.of());
        } catch (CancellationException stopped) {
            job.state = new State(Stand.CANCELLED, 0, 0, Map.of(), Map.of());
        } catch (Exception failure) {
            job.state = new State(Stand.REFUSED, 0, 0, Map.of(), Errors.inside(failure));
        }
    }

    private synchronized Job job(String id) throws ApiException {
        Job job = jobs.get(id);
        if (job == null) {
            throw ApiException.notFound(
                    "there is no such work; after a restart of the server look at the study itself");
        }
        return job;
    }

    State state(String id) throws ApiException {
        return job(id).state;
    }

    void cancel(String id) throws ApiException {
        job(id).cancel.set(true);
    }

    @Override
    public void close() {
        synchronized (this) {
            jobs.values().forEach(job -> job.cancel.set(true));
        }
        worker.shutdown();
        try {
            // What was asked to stop lets go of the study before the server is gone.
            if (!worker.awaitTermination(LONGEST_STOP_S, TimeUnit.SECONDS)) {
                worker.shutdownNow();
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
