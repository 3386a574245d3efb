package org.aftercast.web;

import io.javalin.http.Context;
import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Who may ask. Host and origin are checked so that a page on the open web, opened in the same browser, can neither read
 * the study (by pointing a name of its own at this machine) nor change it (by posting to it).
 */
final class Gate {

    static final String TOKEN_COOKIE = "aftercast-token";
    private static final Set<String> LOCAL_NAMES = Set.of("localhost", "127.0.0.1", "[::1]");

    private final @Nullable Pairing pairing;

    Gate(@Nullable Pairing pairing) {
        this.pairing = pairing;
    }

    /** Checks where a request comes from and sets what every answer carries. */
    void check(Context ctx) throws ApiException {
        headers(ctx);
        String host = ctx.header("Host");
        if (host == null || !ourName(host)) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED,
                    "this server does not answer to the name \"" + host + "\"; open it as http://127.0.0.1:"
                            + ctx.req().getLocalPort() + "/");
        }
        String origin = ctx.header("Origin");
        boolean foreign = origin != null && !sameHost(origin, host);
        String site = ctx.header("Sec-Fetch-Site");
        boolean crossSite = site != null && (site.equals("cross-site") || site.equals("same-site"));
        if (foreign || (crossSite && ctx.path().startsWith("/api/"))) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED, "requests from other pages are not answered; use the pages here");
        }
    }

    /** What whoever asks may do. */
    Role roleOf(Context ctx) {
        if (isThisMachine(ctx)) {
            return Role.JUDGE;
        }
        Pairing.Device device = device(ctx);
        return device == null ? Role.NOBODY : device.role();
    }

    /** The name of the paired device, or null on this machine itself. */
    Pairing.@Nullable Device device(Context ctx) {
        String token = ctx.cookie(TOKEN_COOKIE);
        return pairing == null || token == null ? null : pairing.deviceOf(token);
    }

    boolean shared() {
        return pairing != null;
    }

    @Nullable
    Pairing pairing() {
        return pairing;
    }

    static boolean isThisMachine(Context ctx) {
        try {
            return InetAddress.getByName(ctx.req().getRemoteAddr()).isLoopbackAddress();
        } catch (UnknownHostException notAnAddress) {
            return false;
        }
    }

    private boolean ourName(String host) {
        String name = nameOf(host);
        if (LOCAL_NAMES.contains(name)) {
            return true;
        }
        return pairing != null && pairing.addresses().contains(name);
    }

    private static String nameOf(String host) {
        String lower = host.toLowerCase(Locale.ROOT);
        if (lower.startsWith("[")) {
            int end = lower.indexOf(']');
            return end < 0 ? lower : lower.substring(0, end + 1);
        }
        int colon = lower.indexOf(':');
        return colon < 0 ? lower : lower.substring(0, colon);
    }

    private static boolean sameHost(String origin, String host) {
        try {
            String authority = URI.create(origin).getRawAuthority();
            return authority != null && authority.equalsIgnoreCase(host);
        } catch (IllegalArgumentException notAnOrigin) {
            return false;
        }
    }

    private static void headers(Context ctx) {
        ctx.header(
                "Content-Security-Policy",
                "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:;"
                        + " connect-src 'self'; font-src 'self'; manifest-src 'self'; base-uri 'none';"
                        + " form-action 'self'; frame-ancestors 'none'");
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("Referrer-Policy", "no-referrer");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        ctx.header("Cache-Control", "no-store");
    }
}
