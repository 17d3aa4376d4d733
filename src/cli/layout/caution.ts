// What every page of help and every report says of its own limits.
export const caution = `dozewatch is no certified life-safety or medical monitor, and it makes none of
the door alarms that it tests. Where a door left open may spoil food or medicine
or warm lithium cells, and at doors that people must get out by,
local codes and licensed practice come first.`;

/** As one paragraph, to be wrapped. */
export const cautionWords = caution.replaceAll('\n', ' ');
