/** The map library is served out of its jar; its types are not checked here. */
declare const L: any;
export = L;
