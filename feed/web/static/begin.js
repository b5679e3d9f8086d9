// Writes down the time zone that this device keeps, where none is written yet.
"use strict";

const zone = document.getElementById("wedding-zone");
if (!zone.value) zone.value = Intl.DateTimeFormat().resolvedOptions().timeZone ?? "";
