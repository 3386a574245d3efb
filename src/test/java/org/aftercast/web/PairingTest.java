package org.aftercast.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;

/** Codes, tokens and roles of other devices. */
class PairingTest {

    private final AtomicReference<Instant> now = new AtomicReference<>(Instant.parse("2026-06-01T00:00:00Z"));
    private final Pairing pairing = new Pairing(Set.of("192.0.2.7"), now::get);

    @Test
    void eachCodeGivesItsRoleAndEachDeviceATokenOfItsOwn() throws Exception {
        String code = pairing.codes().get(Role.RECORD);
        String one = pairing.pair(code.substring(0, 4) + " " + code.substring(4), "phone one");
        String two = pairing.pair(code, "phone two");
        assertThat(one).isNotEqualTo(two);
        assertThat(pairing.deviceOf(one)).isEqualTo(new Pairing.Device("phone one", Role.RECORD));
        assertThat(pairing.deviceOf("guess")).isNull();
        assertThat(Role.RECORD.includes(Role.VIEW)).isTrue();
        assertThat(Role.RECORD.includes(Role.JUDGE)).isFalse();
        assertThat(Role.NOBODY.includes(Role.VIEW)).isFalse();
    }

    @Test
    void guessingIsStoppedForAMinute() {
        for (int i = 0; i < 5; i++) {
            assertThatThrownBy(() -> pairing.pair("not a code", "x")).hasMessageContaining("not one of");
        }
        String right = pairing.codes().get(Role.VIEW);
        assertThatThrownBy(() -> pairing.pair(right, "x")).hasMessageContaining("too many");
        now.updateAndGet(t -> t.plus(Duration.ofSeconds(61)));
        assertThat(org.assertj.core.api.Assertions.catchThrowable(() -> pairing.pair(right, "x")))
                .isNull();
    }
}
