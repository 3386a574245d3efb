package org.aftercast.web;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyInfo;
import org.aftercast.voyage.NewStudy;

/** A study served on a free port for tests. */
final class Served implements AutoCloseable {

    static final Instant NOW = Instant.parse("2026-06-03T12:00:00Z");

    final Path folder;
    final PageServer server;
    private final HttpClient client = HttpClient.newHttpClient();

    private Served(Path folder, PageServer server) {
        this.folder = folder;
        this.server = server;
    }

    /** A fresh, empty study, served to this machine. */
    static Served empty(Path folder) throws Exception {
        return empty(folder, PageServer.Reach.THIS_MACHINE);
    }

    static Served empty(Path folder, PageServer.Reach reach) throws Exception {
        new NewStudy(FileStore.onDisk(), InstantSource.fixed(NOW))
                .make(folder, StudyInfo.titled("A test study (invented)"), "tester");
        return new Served(folder, PageServer.start(folder, 0, reach, InstantSource.fixed(NOW)));
    }

    /** Another server on the same folder. */
    static Served again(Path folder) throws IOException {
        return new Served(folder, PageServer.start(folder, 0, PageServer.Reach.THIS_MACHINE, InstantSource.fixed(NOW)));
    }

    /** Sends a request; the path begins with a slash. */
    HttpResponse<String> send(String method, String path, String body, String... headers) throws Exception {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + path));
        request.method(method, HttpRequest.BodyPublishers.ofString(body));
        if (headers.length > 0) {
            request.headers(headers);
        }
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    /** The JSON of a request that must succeed. */
    JsonNode json(String method, String path, String body) throws Exception {
        HttpResponse<String> response = send(method, path, body);
        if (response.statusCode() != 200) {
            throw new AssertionError(method + " " + path + ": " + response.statusCode() + " " + response.body());
        }
        return Json.MAPPER.readTree(response.body());
    }

    /** The error of a request that must fail with a status. */
    JsonNode error(int status, String method, String path, String body, String... headers) throws Exception {
        HttpResponse<String> response = send(method, path, body, headers);
        if (response.statusCode() != status) {
            throw new AssertionError(method + " " + path + ": " + response.statusCode() + " " + response.body());
        }
        return Json.MAPPER.readTree(response.body()).path("error");
    }

    @Override
    public void close() throws IOException {
        server.close();
    }
}
