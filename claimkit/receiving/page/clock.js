// ---- Times as the telephone's clock shows them, always with their offset from UTC.

const two = (number) => String(number).padStart(2, '0');

function offsetText(date) {
  // Whole minutes: V8 gives halves where a zone had seconds (Monrovia until 1972, IANA).
  const minutes = -Math.round(date.getTimezoneOffset());
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

// "2026-10-08 09:05:10-05:00"
function stampOf(date) {
  const day = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  const time = `${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`;
  return `${day} ${time}${offsetText(date)}`;
}

const dateOf = (stamp) => new Date(stamp.replace(' ', 'T'));
const earlier = (stamp, minutes) => stampOf(new Date(dateOf(stamp).getTime() - minutes * 60000));
// What people read: the time of day and its offset.
const clockText = (stamp) => `${stamp.slice(11, 16)} UTC${stamp.slice(19)}`;
// For names of files: no character that a file system refuses.
const fileStamp = (stamp) => stamp.slice(0, 19).replace(/[-:]/g, '').replace(' ', '-');

// The offset that the site's zone has now, or null where this browser does not know the zone.
function siteOffset(zone, date) {
  try {
    const parts = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' })
      .formatToParts(date);
    const name = parts.find((part) => part.type === 'timeZoneName').value;
    return name === 'GMT' ? '+00:00' : name.replace('GMT', '');
  } catch {
    return null;
  }
}
