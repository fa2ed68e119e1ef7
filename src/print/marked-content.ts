/** Names of marked content (ISO 32000-1, 14.6) that the writers put in and the check reads back. */

/** An image of ground, with its extent on the ground. */
export const IMAGE_TAG = 'RunnelImage';
/** The outline whose extent that is. */
export const OUTLINE_TAG = 'RunnelOutline';
/** What a group of marks says about a green. */
export const SHOWS_TAG = 'RunnelShows';
/** A page of the book on a sheet. */
export const PAGE_TAG = 'RunnelPage';
export const CROP_TAG = 'RunnelCrop';
export const FOLD_TAG = 'RunnelFold';
export const REGISTRATION_TAG = 'RunnelRegistration';
