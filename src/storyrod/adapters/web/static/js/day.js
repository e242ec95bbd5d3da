// The day's work: the result fills while it is worked out.
import { fillWhileWorking } from "./filling.js";

fillWhileWorking("day-result", "The days are planned.");
