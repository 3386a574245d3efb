package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.study.ControlAnimals;
import org.aftercast.study.FileStore;
import org.aftercast.study.Fishery;
import org.aftercast.study.KeptPlan;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * What the study keeps besides its animals: the plan, control animals, and the fishery it stands for. Kept numbers enter
 * every later estimate, page and report. Taking one back removes it; the history keeps it.
 */
public final class KeepNumbers {

    private final FileStore files;
    private final InstantSource clock;

    public KeepNumbers(FileStore files, InstantSource clock) {
        this.files = files;
        this.clock = clock;
    }

    /**
     * What a study keeps.
     *
     * @param plan the last plan, or null
     * @param controls or null
     * @param fishery or null
     */
    public record Kept(
            @Nullable KeptPlan plan,
            @Nullable ControlAnimals controls,
            @Nullable Fishery fishery) {}

    /** What an open study keeps. */
    public static Kept of(StudyStore store) throws StudyException {
        List<KeptPlan> plans = store.all(KeptPlan.class);
        return new Kept(
                plans.isEmpty() ? null : plans.get(plans.size() - 1),
                store.find(ControlAnimals.class, ControlAnimals.ID).orElse(null),
                store.find(Fishery.class, Fishery.ID).orElse(null));
    }

    /** Settings with the control animals and the fishery that the study keeps. */
    static EstimateSettings into(EstimateSettings settings, Kept kept) {
        ControlAnimals controls = kept.controls();
        Fishery fishery = kept.fishery();
        EstimateSettings.Change change = settings.change();
        if (controls != null) {
            change.controls(new EstimateSettings.Controls(controls.animals(), controls.died()));
        }
        if (fishery != null) {
            String column = fishery.groupColumn();
            Double released = fishery.released();
            if (column != null) {
                List<EstimateSettings.Weight> weights = new ArrayList<>();
                fishery.groupShares().forEach((group, share) -> weights.add(new EstimateSettings.Weight(group, share)));
                change.scaleUp(new EstimateSettings.ScaleUp(column, weights, fishery.sharesFrom()));
            }
            if (released != null) {
                change.released(new EstimateSettings.ReleasedCatch(
                        released, fishery.releasedLow(), fishery.releasedHigh(), fishery.releasedWhat()));
            }
        }
        return change.done();
    }

    /**
     * Keeps a plan beside those kept before.
     *
     * @return its number
     */
    public int plan(Path folder, PlanQuestion question, String who) throws IOException {
        return change(folder, store -> {
            List<KeptPlan> plans = store.all(KeptPlan.class);
            KeptPlan last = plans.isEmpty() ? null : plans.get(plans.size() - 1);
            if (last != null && last.question().equals(question)) {
                return last.number();
            }
            int number = last == null ? 1 : last.number() + 1;
            store.change(who, change -> {
                change.add(KeptPlan.of(number, question));
                return 0;
            });
            return number;
        });
    }

    /** Keeps a record in the place of the one before. */
    public void put(Path folder, Record record, String who) throws IOException {
        change(folder, store -> {
            store.change(who, change -> {
                change.put(record);
                return 0;
            });
            return 0;
        });
    }

    /**
     * Takes back what is kept of one kind; of several plans the last.
     *
     * @return whether there was anything
     */
    public boolean takeBack(Path folder, Kind kind, String who) throws IOException {
        return change(folder, store -> {
            Kept kept = of(store);
            Record gone = switch (kind) {
                case PLAN -> kept.plan();
                case CONTROLS -> kept.controls();
                case FISHERY -> kept.fishery();
            };
            if (gone != null) {
                store.change(who, change -> {
                    change.remove(gone);
                    return 0;
                });
            }
            return gone != null;
        });
    }

    /** What can be kept. */
    public enum Kind {
        PLAN,
        CONTROLS,
        FISHERY
    }

    /**
     * Keeps the control animals and the fishery that an estimate was made with.
     *
     * @throws BadInputException if it was made with neither, or they break a rule of the study
     */
    public void used(Path folder, EstimateSettings settings, String who) throws BadInputException, IOException {
        if (settings.controls() == null && settings.scaleUp() == null && settings.released() == null) {
            throw new BadInputException("There is nothing to keep; accepted with --keep: --controls, --scale-up with"
                    + " --weight, or --released");
        }
        try {
            keep(folder, settings, who);
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
    }

    private void keep(Path folder, EstimateSettings settings, String who) throws IOException {
        EstimateSettings.Controls controls = settings.controls();
        if (controls != null) {
            put(folder, ControlAnimals.of(controls.animals(), controls.died()), who);
        }
        EstimateSettings.ScaleUp scale = settings.scaleUp();
        EstimateSettings.ReleasedCatch released = settings.released();
        if (scale != null || released != null) {
            Map<String, Double> shares = new TreeMap<>();
            if (scale != null) {
                scale.weights().forEach(weight -> shares.put(weight.group(), weight.share()));
            }
            put(
                    folder,
                    new Fishery(
                            Fishery.ID,
                            scale == null ? null : scale.column(),
                            shares,
                            scale == null ? 0 : scale.weightsFrom(),
                            released == null ? null : released.animals(),
                            released == null ? null : released.low(),
                            released == null ? null : released.high(),
                            released == null ? null : released.what()),
                    who);
        }
    }

    private interface Work<T> {
        T on(StudyStore store) throws IOException;
    }

    private <T> T change(Path folder, Work<T> work) throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.WRITE, files, clock)) {
            return work.on(store);
        }
    }
}
