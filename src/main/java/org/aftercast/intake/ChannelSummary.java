package org.aftercast.intake;

import org.aftercast.recording.Channel;

/**
 * What one channel looks like, for whoever must decide whether the file was understood.
 *
 * @param channel the channel
 * @param count values present
 * @param first first value, in the channel's unit; NaN if there is none
 * @param last last value
 * @param least least value
 * @param greatest greatest value
 * @param sketch the course from start to end in at most 60 block characters, each the mean of an equal share of the rows
 */
public record ChannelSummary(
        Channel channel, long count, float first, float last, float least, float greatest, String sketch) {}
