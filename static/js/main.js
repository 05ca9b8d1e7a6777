// Behaviours bound by data- attributes. The pages work without any of them.
import "./clock.js";
import "./focus.js";
import "./submit-once.js";
import "./keep-typed.js";
import "./undo.js";
import "./reorder.js";
import "./own-zone.js";
