// Sentences of the program that name its options or keys of the site file, each by what the page says instead (`sketch.instead_...` in
// data/languages). The build looks them up.
export const ADVISED = {
  doors_armed: 'looks.doors_armed', doors_open: 'looks.doors_open', metal: 'looks.metal', ruled: 'reading.step.ruled',
  may_it_move: 'reading.step.may_it_move', no_shift: 'reading.no_shift', contradiction: 'reading.contradiction', stays: 'left_out.device_stays',
  ruled_reach: 'left_out.ruled_reach', hubs_stay: 'left_out.hubs_stay', faces: 'explain.mount.faces_unknown',
  faces_known: 'explain.mount.faces_known', no_place: 'placement.impossible.place',
};
