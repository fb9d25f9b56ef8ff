// The script of every page. What it adds, a page can do without.
import { startBox } from "./search/box";

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-search]")) startBox(form);
