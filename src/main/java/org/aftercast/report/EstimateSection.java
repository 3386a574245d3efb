package org.aftercast.report;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What all animals together say, as the report shows it.
 *
 * @param horizonH hours after release for which the share is stated
 * @param deathRule which deaths count, in words
 * @param headline the share that died by the horizon, or null when refused
 * @param counts where the animals stood at the horizon
 * @param sameShareOtherIntervals the same share with other intervals
 * @param robustness how the share moves when a choice is made differently
 * @param curves survival over time; may be empty
 * @param flow from the landing to the fate; may be empty
 * @param risks what makes it worse; may be empty
 * @param recovery recovery of all animals together; may be empty
 * @param blocks further results with sentences and tables, in order
 * @param who which animals are behind the counts
 * @param methods every method used or refused, with its assumptions
 * @param remarks sentences that belong beside the numbers; may be empty
 */
public record EstimateSection(
        double horizonH,
        String deathRule,
        @Nullable ShareLine headline,
        Counts counts,
        List<ShareLine> sameShareOtherIntervals,
        List<ShareLine> robustness,
        List<Curve> curves,
        List<FlowLine> flow,
        List<RiskLine> risks,
        List<RecoveryAcross> recovery,
        List<Block> blocks,
        Who who,
        List<MethodNote> methods,
        List<String> remarks) {

    public EstimateSection {
        sameShareOtherIntervals = List.copyOf(sameShareOtherIntervals);
        robustness = List.copyOf(robustness);
        curves = List.copyOf(curves);
        flow = List.copyOf(flow);
        risks = List.copyOf(risks);
        recovery = List.copyOf(recovery);
        blocks = List.copyOf(blocks);
        methods = List.copyOf(methods);
        remarks = List.copyOf(remarks);
    }

    /** Animals at the horizon: known dead by the rule, another end, known alive, not known. */
    public record Counts(int animals, int died, int otherEnd, int alive, int unknown) {}

    /** Which animals are behind the counts, by name. */
    public record Who(List<String> died, List<String> otherEnd, List<String> unknown) {

        public Who {
            died = List.copyOf(died);
            otherEnd = List.copyOf(otherEnd);
            unknown = List.copyOf(unknown);
        }
    }

    /** Heading of the block that tells the share as a number of dead animals. */
    public static final String IN_NUMBERS = "In numbers of animals";

    /** Where a block stands. */
    public enum Place {
        /** Before what makes it worse. */
        ENDS_AND_GROUPS,
        /** Right below what makes it worse. */
        RISK,
        /** After it. */
        FURTHER
    }

    /**
     * One further result.
     *
     * @param place where it stands
     * @param title heading; empty to go on under the one before
     * @param sentences paragraphs above the tables
     * @param tables with what it says in numbers
     */
    public record Block(Place place, String title, List<String> sentences, List<TextTable> tables) {

        public Block {
            sentences = List.copyOf(sentences);
            tables = List.copyOf(tables);
        }
    }

    /**
     * A table of ready text.
     *
     * @param caption above it
     * @param heads headings of its columns
     * @param numeric columns set flush right, by index
     * @param rows cells, as many as headings
     */
    public record TextTable(String caption, List<String> heads, List<Integer> numeric, List<List<String>> rows) {

        public TextTable {
            heads = List.copyOf(heads);
            numeric = List.copyOf(numeric);
            rows = rows.stream().map(List::copyOf).toList();
        }
    }

    /**
     * A share with its interval.
     *
     * @param label what it is the share of, or what was changed
     * @param value 0–1
     * @param low lower limit; NaN for none
     * @param high upper limit; NaN for none
     * @param level coverage, such as 0.95
     * @param interval name of the interval
     * @param remark or null
     */
    public record ShareLine(
            String label,
            double value,
            double low,
            double high,
            double level,
            String interval,
            @Nullable String remark) {}

    /**
     * One survival curve: a step function, 1 before the first step. Arrays run together.
     *
     * @param name of the group, or an empty text for all animals
     * @param timeH step times, ascending
     * @param survival from each time on, 0–1
     * @param low lower limit, NaN for none
     * @param high upper limit, NaN for none
     * @param censoredH times at which animals left our sight
     * @param entryH ends of watching of all animals, dead or censored, any order: gives the numbers at risk
     * @param endH where the curve ends
     * @param interval name of the interval with its level
     * @param deaths number of deaths
     */
    public record Curve(
            String name,
            double[] timeH,
            double[] survival,
            double[] low,
            double[] high,
            double[] censoredH,
            double[] entryH,
            double endH,
            String interval,
            int deaths) {}

    /**
     * One stage from the landing to the fate.
     *
     * @param name in words
     * @param animals how many
     * @param depth 0 for the first stage; one more for a part of the stage above it
     */
    public record FlowLine(String name, int animals, int depth) {}

    /**
     * One risk factor.
     *
     * @param factor in words, with the unit of one step
     * @param ratio how many times the odds (or the rate) change per step
     * @param low lower limit
     * @param high upper limit, may be infinite
     * @param kind odds ratio or hazard ratio, with the method
     * @param p p-value, NaN for none
     * @param animals used
     * @param deaths among them
     * @param remark or null
     */
    public record RiskLine(
            String factor,
            double ratio,
            double low,
            double high,
            String kind,
            double p,
            int animals,
            int deaths,
            @Nullable String remark) {}

    /**
     * Recovery of one measure across animals.
     *
     * @param measure in words
     * @param hours by which half had recovered, those with a lower limit only included; {@code NaN} when that cannot be told
     * @param lowH lower limit, or {@code NaN}
     * @param highH upper limit, infinite when there is none
     * @param method how it was pooled, with the interval
     * @param animals used
     * @param censored of these, with a lower limit only
     * @param remark or null
     */
    public record RecoveryAcross(
            String measure,
            double hours,
            double lowH,
            double highH,
            String method,
            int animals,
            int censored,
            @Nullable String remark) {}

    /**
     * A method.
     *
     * @param topic what it was used for, in a few words
     * @param name with the interval it uses
     * @param assumptions one sentence each
     * @param refusal why it gave no result, or null
     */
    public record MethodNote(
            String topic,
            String name,
            List<String> assumptions,
            @Nullable String refusal) {

        public MethodNote {
            assumptions = List.copyOf(assumptions);
        }
    }
}
