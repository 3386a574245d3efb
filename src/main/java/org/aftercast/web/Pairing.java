package org.aftercast.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Base64;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Devices on the boat's network: each role has a pairing code of eight digits; whoever types it gets a token of their own
 * that holds until the server ends. After five wrong codes nobody pairs for a minute.
 */
final class Pairing {

    /**
     * A paired device.
     *
     * @param name as typed on it; noted in the history
     * @param role what it may do
     */
    record Device(String name, Role role) {}

    private static final int MOST_WRONG = 5;
    private static final Duration PAUSE = Duration.ofMinutes(1);

    private final SecureRandom random = new SecureRandom();
    private final Map<Role, String> codes = new EnumMap<>(Role.class);
    private final Map<String, Device> devices = new LinkedHashMap<>();
    private final Set<String> addresses;
    private final InstantSource clock;
    private int wrong;
    private Instant closedUntil = Instant.MIN;

    Pairing(Set<String> addresses, InstantSource clock) {
        this.addresses = Set.copyOf(addresses);
        this.clock = clock;
        for (Role role : new Role[] {Role.VIEW, Role.RECORD, Role.JUDGE}) {
            String code;
            do {
                code = String.format(java.util.Locale.ROOT, "%08d", random.nextInt(100_000_000));
            } while (codes.containsValue(code));
            codes.put(role, code);
        }
    }

    Map<Role, String> codes() {
        return Map.copyOf(codes);
    }

    Set<String> addresses() {
        return addresses;
    }

    /** Pairs a device; the token is for it alone. */
    synchronized String pair(String code, String name) throws ApiException {
        Instant now = clock.instant();
        if (now.isBefore(closedUntil)) {
            throw new ApiException(
                    ApiException.Kind.NOT_ALLOWED, "too many wrong codes; pairing opens again within a minute");
        }
        String digits = code.replaceAll("[\\s-]", "");
        for (Map.Entry<Role, String> entry : codes.entrySet()) {
            if (MessageDigest.isEqual(
                    entry.getValue().getBytes(StandardCharsets.UTF_8), digits.getBytes(StandardCharsets.UTF_8))) {
                byte[] bytes = new byte[24];
                random.nextBytes(bytes);
                String token = Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
                devices.put(token, new Device(name, entry.getKey()));
                wrong = 0;
                return token;
            }
        }
        wrong++;
        if (wrong >= MOST_WRONG) {
            wrong = 0;
            closedUntil = now.plus(PAUSE);
        }
        throw new ApiException(
                ApiException.Kind.NOT_ALLOWED,
                "that is not one of the pairing codes; they stand where aftercast serve was started");
    }

    synchronized @Nullable Device deviceOf(String token) {
        return devices.get(token);
    }
}
