// Will it stand?: choices for a glue-up that takes too long come once they were tried.
import { fillGlue } from "./glue.js";

document.addEventListener("storyrod:put", (event) => {
  if (event.target instanceof Element && event.target.id === "stand") fillGlue();
});
fillGlue();
