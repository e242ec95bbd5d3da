// Jobs made together: the result fills while it is worked out.
import { fillWhileWorking } from "./filling.js";

fillWhileWorking("batch-result", "The jobs are planned together.");
