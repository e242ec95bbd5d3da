// A study: its result fills while it is worked out.
import { fillWhileWorking } from "./filling.js";

fillWhileWorking("study-result", "Every variant is worked out.");
