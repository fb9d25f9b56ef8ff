// What is set the same where an index is built and where it is searched: titles
// count as much as in ours, the rest is what each project recommends.
export const miniOptions = { fields: ["title", "body"], storeFields: ["title"], searchOptions: { boost: { title: 8 } } };
